"""Turning rows into the core's records and back; quick, since everything passes through here."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from sqlalchemy import Table, select

from lotkin.core.canonical import canonical
from lotkin.core.chain import chain_row
from lotkin.core.items import Fact, Item, Link
from lotkin.core.view import Breach, Entry
from lotkin.store.tables import (
    MIXING_BY_NUMBER,
    NUMBER_OF_MIXING,
    FactPast,
    FactRow,
    GraphChangeRow,
    ItemPast,
    ItemRow,
    JournalRow,
    LinkPast,
    LinkRow,
    MetaRow,
    MovementPast,
    MovementRow,
    SpotRow,
    StockRow,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sqlalchemy import FromClause, Select

__all__ = [
    "FACT",
    "FACT_PAST",
    "GRAPH_CHANGE",
    "ITEM",
    "ITEM_COLUMNS",
    "ITEM_PAST",
    "JOURNAL",
    "LINK",
    "LINK_PAST",
    "META",
    "MOVEMENT",
    "MOVEMENT_PAST",
    "SPOT",
    "STOCK",
    "entry_of",
    "entry_row",
    "fact_of",
    "fact_row",
    "item_of",
    "item_row",
    "link_of",
    "link_row",
    "select_items",
    "table_of",
]


def table_of(model: Any) -> Table:
    """Give the table of a class; SQLModel has no type for it."""
    table: Table = model.__table__
    return table


JOURNAL = table_of(JournalRow)
META = table_of(MetaRow)
ITEM, ITEM_PAST = table_of(ItemRow), table_of(ItemPast)
LINK, LINK_PAST = table_of(LinkRow), table_of(LinkPast)
MOVEMENT, MOVEMENT_PAST = table_of(MovementRow), table_of(MovementPast)
FACT, FACT_PAST = table_of(FactRow), table_of(FactPast)
GRAPH_CHANGE = table_of(GraphChangeRow)
SPOT, STOCK = table_of(SpotRow), table_of(StockRow)

ITEM_COLUMNS = (
    "code",
    "kind",
    "part",
    "quantity",
    "unit",
    "made_at",
    "started_at",
    "event",
    "step",
    "serial",
    "supplier",
    "supplier_lot",
    "due_at",
    "station",
    "plan",
)
"""Columns of an item in the order of the fields of `Item`."""


def select_items(table: FromClause = ITEM) -> Select[Any]:
    """Select `id` and then the columns of an item in the order of its fields."""
    return select(table.c.id, *(table.c[name] for name in ITEM_COLUMNS))


def item_of(row: Sequence[Any]) -> Item:
    """Make an item of a row from `select_items`."""
    return Item(*row[1:])


def item_row(number: int, item: Item, since: int) -> dict[str, Any]:
    """Make a row of an item."""
    row = {name: getattr(item, name) for name in ITEM_COLUMNS}
    row["id"] = number
    row["since"] = since
    return row


def link_of(row: Sequence[Any], parent: str, child: str) -> Link:
    """Make a link of (event, grp, mixing, quantity, per, position) and the codes of its ends."""
    event, group, mixing, quantity, per, position = row
    return Link(parent, child, group, MIXING_BY_NUMBER[mixing], quantity, per, position, event)


def link_row(link: Link, parent: int, child: int, since: int) -> dict[str, Any]:
    """Make a row of a link."""
    return {
        "parent": parent,
        "child": child,
        "event": link.event,
        "grp": link.group,
        "mixing": NUMBER_OF_MIXING[link.mixing],
        "quantity": link.quantity,
        "per": link.per,
        "position": link.position,
        "since": since,
    }


def fact_of(row: Any) -> Fact:
    """Make a fact of a row."""
    return Fact(row.topic, row.subject, row.at, json.loads(row.value), row.event, row.ordinal)


def fact_row(fact: Fact, since: int) -> dict[str, Any]:
    """Make a row of a fact."""
    return {
        "topic": fact.topic,
        "subject": fact.subject,
        "at": fact.at,
        "event": fact.event,
        "ordinal": fact.ordinal,
        "value": canonical(fact.value),
        "since": since,
    }


def entry_of(row: Any) -> Entry:
    """Make a journal entry of a row."""
    return Entry(
        seq=row.seq,
        id=row.id,
        kind=row.kind,
        at=row.at,
        recorded_at=row.recorded_at,
        station=row.station,
        by=row.by,
        reported=bool(row.reported),
        data=json.loads(row.data),
        sent=row.sent,
        plan=row.plan,
        breaches=tuple(Breach(**breach) for breach in json.loads(row.breaches)),
        previous=row.previous,
        hash=row.hash,
    )


def entry_row(entry: Entry) -> dict[str, Any]:
    """Make a row of a journal entry."""
    row = chain_row(entry)._asdict()
    row["reported"] = entry.reported
    return row
