"""Parts of which each piece carries a serial: one piece, one record, one serial."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from lotkin.core.genealogy.view import Breach
from lotkin.core.rules.written_codes import check_serial
from lotkin.core.values.quantities import MICRO, show_quantity

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.core.plan import PartPlan, ShopPlan
    from lotkin.core.rules.checking import Shop

__all__ = ["carries_serial", "check_one_piece", "note_lots"]

RULE = "serial-missing"


def carries_serial(plan: ShopPlan | None, part: str, step: str) -> bool:
    """Tell whether each piece of a part carries a serial after a step of its route; "" for none.

    The serial is put on in the route: what has not passed the last step need not carry it yet.
    """
    planned = plan.part(part) if plan is not None else None
    if planned is None or not planned.serialised:
        return False
    return not planned.steps or not step or step == planned.steps[-1].code


def check_one_piece(shop: Shop, code: str, part: PartPlan, quantity: int, serial: str) -> None:
    """Check that what carries a serial is one piece, and that its serial is given.

    Args:
        shop: The works as the event meets it.
        code: Of the item.
        part: Its part, of which each piece carries a serial.
        quantity: In millionths of a piece.
        serial: As given; "" for none.

    Raises:
        RuleBroken: It is not one piece, or has no serial (asked events only).
    """
    if quantity != MICRO:
        amount = show_quantity(quantity, part.unit)
        shop.breach(
            RULE,
            code,
            f"{code}: {amount} of {part.code}, each piece of which carries a serial",
            hint="record each piece by itself, with its serial",
        )
    elif not serial:
        shop.breach(
            RULE,
            code,
            f"{code} has no serial, but each piece of {part.code} carries one",
            hint="scan the serial on the piece",
        )
    else:
        check_serial(shop, serial, part.code, part.serials)


def note_lots(shop: Shop, items: Iterable[tuple[str, str, int | None, str]]) -> None:
    """Note, of records that others kept, what is no single piece although its part has serials.

    Nothing of them is refused: they say what was so.

    Args:
        shop: The works as the event meets it.
        items: (code, part, millionths of a piece, step passed) of material.
    """
    found: Counter[str] = Counter()
    first: dict[str, str] = {}
    for code, part, quantity, step in items:
        if quantity not in (None, MICRO) and carries_serial(shop.plan, part, step):
            found[part] += 1
            first.setdefault(part, code)
    for part, count in found.items():
        more = f" and {count - 1} more" if count > 1 else ""
        said = (
            f"{first[part]}{more} of {part}: not one piece each, "
            f"but each piece of {part} carries a serial"
        )
        shop.breaches.append(Breach(RULE, first[part], said))
