"""Turning rows into the core's records and back; quick, since everything passes through here."""

from __future__ import annotations

import json
from operator import attrgetter
from typing import TYPE_CHECKING, Any

from lotkin.core.genealogy.items import Fact, Item, Link
from lotkin.core.genealogy.view import Breach, Entry
from lotkin.core.journal.chain import ChainRow, chain_row
from lotkin.core.values.canonical import canonical
from lotkin.core.values.kinds import Mixing

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = [
    "COLUMNS",
    "FACT_COLUMNS",
    "ITEM_COLUMNS",
    "JOURNAL_COLUMNS",
    "LINK_COLUMNS",
    "MIXING_BY_NUMBER",
    "NUMBER_OF_MIXING",
    "entry_of",
    "entry_row",
    "fact_of",
    "fact_row",
    "item_of",
    "item_row",
    "link_of",
    "link_row",
]

MIXING_BY_NUMBER = (Mixing.EACH, Mixing.ONE_OF, Mixing.EITHER, Mixing.BLEND, Mixing.FORMER)
NUMBER_OF_MIXING = {mixing: number for number, mixing in enumerate(MIXING_BY_NUMBER)}

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

LINK_COLUMNS = ("event", "grp", "mixing", "quantity", "per", "position")
"""Columns of a link besides its ends."""

FACT_COLUMNS = ("topic", "subject", "at", "value", "event", "ordinal")
JOURNAL_COLUMNS = ChainRow._fields

COLUMNS = {
    "spot": ("id", "place", "within"),
    "journal": JOURNAL_COLUMNS,
    "item": ("id", *ITEM_COLUMNS, "since"),
    "link": ("parent", "child", *LINK_COLUMNS, "since"),
    "movement": ("item", "quantity", "origin", "destination", "event", "since"),
    "fact": (*FACT_COLUMNS, "since"),
    "stock": ("item", "spot", "quantity"),
    "meta": ("key", "value"),
    "graph_change": ("seq", "item"),
}
"""Columns of the rows that are written, table by table."""

REPORTED = JOURNAL_COLUMNS.index("reported")
OF_ITEM = attrgetter(*ITEM_COLUMNS)


def item_of(row: Sequence[Any]) -> Item:
    """Make an item of a row of its number and `ITEM_COLUMNS`."""
    return Item(*row[1:])


def item_row(number: int, item: Item, since: int) -> tuple[Any, ...]:
    """Make a row of an item."""
    return (number, *OF_ITEM(item), since)


def link_of(row: Sequence[Any], parent: str, child: str) -> Link:
    """Make a link of a row of `LINK_COLUMNS` and the codes of its ends."""
    event, group, mixing, quantity, per, position = row
    return Link(parent, child, group, MIXING_BY_NUMBER[mixing], quantity, per, position, event)


def link_row(link: Link, parent: int, child: int, since: int) -> tuple[Any, ...]:
    """Make a row of a link."""
    _, _, group, mixing, quantity, per, position, event = link
    number = NUMBER_OF_MIXING[mixing]
    return (parent, child, event, group, number, quantity, per, position, since)


def fact_of(row: Sequence[Any]) -> Fact:
    """Make a fact of a row of `FACT_COLUMNS`."""
    topic, subject, at, value, event, ordinal = row
    return Fact(topic, subject, at, json.loads(value), event, ordinal)


def fact_row(fact: Fact, since: int) -> tuple[Any, ...]:
    """Make a row of a fact."""
    value = canonical(fact.value)
    return (fact.topic, fact.subject, fact.at, value, fact.event, fact.ordinal, since)


def entry_of(row: Sequence[Any]) -> Entry:
    """Make a journal entry of a row of `JOURNAL_COLUMNS`."""
    said = ChainRow(*row)
    return Entry(
        seq=said.seq,
        id=said.id,
        kind=said.kind,
        at=said.at,
        recorded_at=said.recorded_at,
        station=said.station,
        by=said.by,
        reported=bool(said.reported),
        data=json.loads(said.data),
        sent=said.sent,
        plan=said.plan,
        breaches=tuple(Breach(**breach) for breach in json.loads(said.breaches)),
        previous=said.previous,
        hash=said.hash,
    )


def entry_row(entry: Entry) -> tuple[Any, ...]:
    """Make a row of a journal entry."""
    row = chain_row(entry)
    return (*row[:REPORTED], entry.reported, *row[REPORTED + 1 :])
