"""What reports say of items."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_answers.places import Places

if TYPE_CHECKING:
    from lotkin.core.answers.rows import Row
    from lotkin.core.genealogy.items import Item
    from lotkin.core.plan import ShopPlan

__all__ = [
    "described",
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


def unit_name(row: Row) -> str:
    """Give what people call an item: the serial of a unit, else the code."""
    return row.serial or row.code
