"""What reports say of items, and their counts of units."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING

from lotkin_answers.places import Places

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from lotkin.core.answers.containment import Containment
    from lotkin.core.answers.rows import Row
    from lotkin.core.genealogy.items import Item
    from lotkin.core.plan import ShopPlan

__all__ = [
    "all_rows",
    "described",
    "unit_certainty",
    "unit_name",
]


def described(item: Item, plan: ShopPlan | None) -> str:
    """Say what an item is: its kind, part and supplier's number."""
    words = [item.kind.replace("-", " ")]
    if item.part:
        part = plan.part(item.part) if plan is not None else None
        words.append(f"{item.part} {part.name}" if part is not None else item.part)
    if item.supplier:
        number = f", their number {item.supplier_lot}" if item.supplier_lot else ""
        words.append(f"from {Places(plan).titled(item.supplier)}{number}")
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
