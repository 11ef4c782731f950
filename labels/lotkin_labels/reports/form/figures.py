"""Figures and words of reports: quantities, shares, certainty, moments, counts of units."""

from __future__ import annotations

from contextlib import suppress
from itertools import chain
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from lotkin.core.values.instants import from_us
from lotkin.core.values.percent import in_percent

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from lotkin.core.answers.containment import Containment
    from lotkin.core.answers.rows import Row
    from lotkin.core.genealogy.items import Item
    from lotkin.core.plan import ShopPlan

__all__ = [
    "all_rows",
    "certainty_of",
    "counted",
    "described",
    "percent",
    "place_name",
    "plain",
    "show_moment",
    "titled",
    "unit_certainty",
    "unit_name",
]


def plain(quantity: float) -> str:
    """Write a quantity without trailing zeros and never in powers of ten.

    >>> plain(59.0), plain(0.25), plain(-1e-9)
    ('59', '0.25', '0')
    """
    text = f"{quantity:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def percent(low: float, high: float | None = None) -> str:
    """Write a share or a range of shares; never none or all of it where it is neither.

    >>> percent(0.25), percent(1e-9), percent(0.0, 0.5)
    ('25 %', 'under 0.01 %', '0 to 50 %')
    """
    if high is None or high == low:
        return f"{in_percent(low)} %"
    return f"{in_percent(low)} to {in_percent(high)} %"


def certainty_of(row: Row) -> str:
    """Say how sure it is that a piece of an item contains what was asked about."""
    mark = ", start not recorded" if row.start_not_recorded else ""
    return f"{_how_sure(row)}{mark}"


def _how_sure(row: Row) -> str:
    if row.removed:
        return "no longer"
    if row.certain:
        return "certain"
    if row.chance is None:
        return f"possible, {percent(row.chance_low, row.chance_high)}"
    return f"possible, {percent(row.chance)}"


def counted(number: int, one: str) -> str:
    """Write a number of things.

    >>> counted(1, "unit"), counted(1200, "unit")
    ('1 unit', '1200 units')
    """
    return f"{number} {one if number == 1 else one + 's'}"


def show_moment(us: int | None, plan: ShopPlan | None = None) -> str:
    """Write a moment to the second in the time zone of the works; "" if it is not known."""
    if us is None:
        return ""
    moment = from_us(us)
    if plan is not None:
        # a machine without time zones still shows the right moment
        with suppress(ZoneInfoNotFoundError, ValueError, OSError):
            moment = moment.astimezone(ZoneInfo(plan.works.timezone))
    return moment.isoformat(" ", timespec="seconds").replace("+00:00", "Z")


def place_name(code: str, plan: ShopPlan | None) -> str:
    """Give the name of a place; "" if the plan has none."""
    place = plan.place(code) if plan is not None else None
    return place.name if place is not None else ""


def titled(code: str, plan: ShopPlan | None) -> str:
    """Write a place with its name."""
    name = place_name(code, plan)
    return f"{code} ({name})" if name else code


def described(item: Item, plan: ShopPlan | None) -> str:
    """Say what an item is: its kind, part and supplier's number."""
    words = [item.kind.replace("-", " ")]
    if item.part:
        part = plan.part(item.part) if plan is not None else None
        words.append(f"{item.part} {part.name}" if part is not None else item.part)
    if item.supplier:
        number = f", their number {item.supplier_lot}" if item.supplier_lot else ""
        words.append(f"from {titled(item.supplier, plan)}{number}")
    return ", ".join(words)


def all_rows(found: Containment) -> Iterator[Row]:
    """Give every item of a containment, the subjects first."""
    return chain(found.subject_rows, found.answer.items)


def unit_name(row: Row) -> str:
    """Give what people call an item: the serial of a unit, else the code."""
    return row.serial or row.code


def unit_certainty(found: Containment) -> tuple[int, int]:
    """Count the serials that certainly are suspect now, and those that possibly are."""
    rows = [row for row in all_rows(found) if row.kind == "unit"]
    gone = _names(row for row in rows if row.removed)
    certain = _names(row for row in rows if row.certain and not row.removed) - gone
    return len(certain), found.units - len(certain)


def _names(rows: Iterable[Row]) -> set[str]:
    return {unit_name(row) for row in rows}
