"""Numbers, lengths, days and values of certificates as people type them."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin.core.values.instants import parse_instant

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

__all__ = ["composition_of", "day_or_moment", "length_mm", "moment_of", "number", "results_of"]

NUMBER = re.compile(r"[0-9]{1,12}(?:[.,][0-9]{1,6})?")
THOUSANDS = re.compile(r"[0-9]{1,3},[0-9]{3}")
LENGTH = re.compile(r"([0-9.,]{1,20}) ?(mm|m|)")
SHORTEST_MM = 100
"""No bar is that short, and metres are told in such numbers. Common practice, no source."""

DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


def number(text: str) -> Decimal:
    """Read a number; a decimal comma is taken, one that may part thousands is not.

    Raises:
        ValueError: It is none; the message says why.

    Example:
        >>> number("12,5")
        Decimal('12.5')
    """
    plain = text.strip()
    if THOUSANDS.fullmatch(plain) and not plain.startswith("0"):
        raise ValueError(f"{plain} is one number or another; write it with a point or no comma")
    if NUMBER.fullmatch(plain) is None:
        raise ValueError(f"{plain[:40]!r} is no number, like 12.5")
    return Decimal(plain.replace(",", "."))


def length_mm(text: str) -> Decimal:
    """Read a length: millimetres, or metres if it says so; what is short must say its unit.

    Raises:
        ValueError: It is none.

    Example:
        >>> length_mm("3000"), length_mm("3 m")
        (Decimal('3000'), Decimal('3000'))
    """
    found = LENGTH.fullmatch(text.strip().lower())
    if found is None:
        raise ValueError(f"{text.strip()[:40]!r} is no length, like 3000 or 3 m")
    value = number(found[1]) * (1000 if found[2] == "m" else 1)
    if not found[2] and value < SHORTEST_MM:
        raise ValueError(f"is that {found[1]} m or {found[1]} mm? write the unit behind it")
    return value.quantize(Decimal(1)) if value == value.to_integral_value() else value


def day_or_moment(text: str) -> datetime | date:
    """Read a day, which counts to its end, or a moment with its zone.

    Raises:
        ValueError: It is neither.
    """
    plain = text.strip()
    try:
        return date.fromisoformat(plain) if DAY.fullmatch(plain) else parse_instant(plain)
    except (ValueError, OverflowError):
        why = f"{plain[:40]!r} is no day like 2027-03-01 and no moment like 2027-03-01T12:00:00Z"
        raise ValueError(why) from None


def moment_of(text: str) -> datetime:
    """Read a moment with its zone.

    Raises:
        ValueError: It is none.
    """
    try:
        return parse_instant(text.strip())
    except (ValueError, OverflowError):
        why = f"{text.strip()[:40]!r} is no moment like 2026-03-02T07:30:00Z"
        raise ValueError(why) from None


def composition_of(text: str) -> dict[str, Decimal]:
    """Read elements with their mass %, `C 0.08, Mn 1.05`; {} for an empty text.

    Raises:
        ValueError: An element is not known, has no value or several, or comes twice.
    """
    from lotkin.core.materials import ELEMENTS  # noqa: PLC0415 - slow to load

    read = _values_of(text, {element.upper(): element for element in sorted(ELEMENTS)})
    several = [element for element, values in read.items() if len(values) > 1]
    if several:
        raise ValueError(f"{several[0]} has several values")
    return {element: values[0] for element, values in read.items()}


def results_of(text: str) -> dict[str, tuple[Decimal, ...]]:
    """Read properties with their results, `Rm 560 571, A 9`; {} for an empty text.

    Raises:
        ValueError: A property is not known, has no result, or comes twice.
    """
    from lotkin.core.certificates.cells import PROPERTY_BY_SPELLING  # noqa: PLC0415 - slow to load

    return _values_of(text, PROPERTY_BY_SPELLING)


def _values_of(text: str, known: Mapping[str, str]) -> dict[str, tuple[Decimal, ...]]:
    found: dict[str, list[Decimal]] = {}
    symbol = ""
    for word in re.sub(r"[=:;%]|,(?=\s|[A-Za-z]|$)", " ", text).split():
        if word[0].isalpha():
            symbol = _symbol(word, known)
            if symbol in found:
                raise ValueError(f"{symbol} stands there twice")
            found[symbol] = []
        elif symbol:
            found[symbol].append(number(word))
        else:
            raise ValueError(f"a symbol is missing before {word[:20]}")
    empty = [each for each, values in found.items() if not values]
    if empty:
        raise ValueError(f"{empty[0]} has no value")
    return {each: tuple(values) for each, values in found.items()}


def _symbol(word: str, known: Mapping[str, str]) -> str:
    spelled = known.get(re.sub(r"[^0-9A-Z]", "", word.upper()))
    if spelled is None:
        examples = ", ".join(list(known.values())[:3])
        raise ValueError(f"{word[:20]!r} is not known; write it like {examples}")
    return spelled
