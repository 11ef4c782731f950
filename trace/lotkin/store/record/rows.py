"""The tables of the model, as SQLAlchemy speaks of them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from lotkin.store.record.tables import (
    FactPast,
    FactRow,
    GraphChangeRow,
    ItemPast,
    ItemRow,
    JournalRow,
    LinkPast,
    LinkRow,
    MovementPast,
    MovementRow,
    SpotRow,
    StockRow,
)

if TYPE_CHECKING:
    from sqlalchemy import Table

__all__ = [
    "FACT",
    "FACT_PAST",
    "GRAPH_CHANGE",
    "ITEM",
    "ITEM_PAST",
    "JOURNAL",
    "LINK",
    "LINK_PAST",
    "MOVEMENT",
    "MOVEMENT_PAST",
    "SPOT",
    "STOCK",
    "table_of",
]


def table_of(model: Any) -> Table:
    """Give the table of a class; SQLModel has no type for it."""
    table: Table = model.__table__
    return table


JOURNAL = table_of(JournalRow)
ITEM, ITEM_PAST = table_of(ItemRow), table_of(ItemPast)
LINK, LINK_PAST = table_of(LinkRow), table_of(LinkPast)
MOVEMENT, MOVEMENT_PAST = table_of(MovementRow), table_of(MovementPast)
FACT, FACT_PAST = table_of(FactRow), table_of(FactPast)
GRAPH_CHANGE = table_of(GraphChangeRow)
SPOT, STOCK = table_of(SpotRow), table_of(StockRow)
