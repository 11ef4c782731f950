"""How the works writes serials and carton numbers: masks of the plan, and slips of the scanner."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.codes import is_own_code

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable

    from lotkin.core.genealogy.items import Item
    from lotkin.core.rules.checking import Shop

__all__ = ["check_carton", "check_serial", "fits_mask", "in_digits", "is_made_up_carton", "is_slip"]

LOOK_ALIKE = str.maketrans("OILBSZQoilbszq", "01185200118520")
"""Letters that are taken for digits; common practice, no source."""

MADE_UP = "CTN-"


def fits_mask(text: str, mask: str) -> bool:
    """Tell whether a code is written like a mask: `#` a digit, `@` a capital letter, `?` either.

    >>> fits_mask("DP40-2004", "DP40-####"), fits_mask("DP40-20O4", "DP40-####")
    (True, False)
    """
    return len(text) == len(mask) and all(map(_fits, text, mask))


def _fits(character: str, wanted: str) -> bool:
    is_digit, is_letter = character in "0123456789", "A" <= character <= "Z"
    if wanted == "#":
        return is_digit
    if wanted == "@":
        return is_letter
    return is_digit or is_letter if wanted == "?" else character == wanted


def in_digits(text: str) -> str:
    """Write a text with digits for the letters that are taken for them: `T-O1` as `T-01`."""
    return text.translate(LOOK_ALIKE)


def is_slip(text: str, known: Item) -> bool:
    """Tell whether a text is the code of a recorded item, misread or cut off.

    Serials follow each other, so one digit for another is no slip, and neither is a short serial
    that a longer one begins with.
    """
    code = known.code
    if text == code:
        return False
    if known.kind != "unit" and len(text) >= 4 and code.startswith(text):
        return True
    if in_digits(text).upper() == in_digits(code).upper():
        return True
    if len(text) != len(code):
        return False
    other = [pair for pair in zip(text, code, strict=True) if pair[0] != pair[1]]
    return len(other) == 1 and not all(character.isdigit() for character in other[0])


def is_made_up_carton(code: str) -> bool:
    """Tell whether a carton's code is one that lotkin made up itself."""
    return code.startswith(MADE_UP) and is_own_code(code.removeprefix(MADE_UP))


def check_serial(shop: Shop, serial: str, part: str, masks: Collection[str]) -> None:
    """Check that a serial is written as the plan says; else what carries it is held."""
    if not masks or any(fits_mask(serial, mask) for mask in masks):
        return
    said = f"serials of {part} are written {_listed(masks)}"
    shop.breach(
        "odd-serial",
        serial,
        f"{serial}: {said}",
        hint="scan the label of the piece itself, or add this way of writing to the plan",
    )
    shop.hold_what_is_made(f"odd serial: {said}")


def check_carton(shop: Shop, carton: str) -> None:
    """Check that a carton's code is written as the plan says and is no serial of a unit."""
    plan = shop.plan
    if plan is None or is_made_up_carton(carton):
        return
    masks = plan.works.cartons
    unit = next((p.code for p in plan.parts if any(fits_mask(carton, m) for m in p.serials)), "")
    if masks and any(fits_mask(carton, mask) for mask in masks):
        return
    if not masks and not unit:
        return
    said = f"is written like a serial of {unit}" if unit else f"cartons are {_listed(masks)}"
    shop.breach(
        "odd-carton",
        carton,
        f"carton {carton}: {said}",
        hint="scan the carton's own label; record the unit first if it is one",
    )
    shop.hold_what_is_made(f"odd carton: {said}")


def _listed(masks: Iterable[str]) -> str:
    return " or ".join(masks)
