"""Turning rows into the core's records and back; quick, since everything passes through here."""

from __future__ import annotations

import json
from dataclasses import fields
from typing import TYPE_CHECKING, Any

from lotkin.core.genealogy.items import Fact, Item, Link, Movement
from lotkin.core.genealogy.view import Breach, Entry
from lotkin.core.journal.chain import ChainRow, chain_row
from lotkin.core.values.canonical import canonical
from lotkin.core.values.kinds import Mixing
from lotkin.store import schema

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.store.schema import Row

__all__ = [
    "FACT_COLUMNS",
    "ITEM_COLUMNS",
    "JOURNAL_COLUMNS",
    "LINK_COLUMNS",
    "MIXING_BY_NUMBER",
    "MOVEMENT_COLUMNS",
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

ITEM_COLUMNS = tuple(field.name for field in fields(Item))
"""Columns of an item besides its number and since when it reads so."""

LINK_COLUMNS = tuple("grp" if name == "group" else name for name in Link._fields[2:])
"""Columns of a link besides its ends; `group` is a word of SQL."""

FACT_COLUMNS = tuple(field.name for field in fields(Fact))
MOVEMENT_COLUMNS = Movement._fields
JOURNAL_COLUMNS = ChainRow._fields


def item_of(row: Sequence[Any]) -> Item:
    """Make an item of a row of its number and `ITEM_COLUMNS`."""
    return Item(*row[1:])


def item_row(number: int, item: Item, since: int) -> Row:
    """Make a row of an item."""
    return schema.item_row(
        id=number,
        code=item.code,
        kind=item.kind,
        part=item.part,
        quantity=item.quantity,
        unit=item.unit,
        made_at=item.made_at,
        started_at=item.started_at,
        event=item.event,
        step=item.step,
        serial=item.serial,
        supplier=item.supplier,
        supplier_lot=item.supplier_lot,
        due_at=item.due_at,
        station=item.station,
        plan=item.plan,
        since=since,
    )


def link_of(row: Sequence[Any], parent: str, child: str) -> Link:
    """Make a link of a row of `LINK_COLUMNS` and the codes of its ends."""
    group, mixing, *others = row
    return Link(parent, child, group, MIXING_BY_NUMBER[mixing], *others)


def link_row(link: Link, parent: int, child: int, since: int) -> Row:
    """Make a row of a link."""
    return schema.link_row(
        parent=parent,
        child=child,
        event=link.event,
        grp=link.group,
        mixing=NUMBER_OF_MIXING[link.mixing],
        quantity=link.quantity,
        per=link.per,
        position=link.position,
        since=since,
    )


def fact_of(row: Sequence[Any]) -> Fact:
    """Make a fact of a row of `FACT_COLUMNS`."""
    topic, subject, at, value, event, ordinal = row
    return Fact(topic, subject, at, json.loads(value), event, ordinal)


def fact_row(fact: Fact, since: int) -> Row:
    """Make a row of a fact."""
    return schema.fact_row(
        topic=fact.topic,
        subject=fact.subject,
        at=fact.at,
        value=canonical(fact.value),
        event=fact.event,
        ordinal=fact.ordinal,
        since=since,
    )


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


def entry_row(entry: Entry) -> Row:
    """Make a row of a journal entry."""
    said = chain_row(entry)
    return schema.journal_row(
        seq=said.seq,
        id=said.id,
        kind=said.kind,
        at=said.at,
        recorded_at=said.recorded_at,
        station=said.station,
        by=said.by,
        # hashed as a number, and a truth value to the database
        reported=entry.reported,
        data=said.data,
        sent=said.sent,
        plan=said.plan,
        breaches=said.breaches,
        previous=said.previous,
        hash=said.hash,
    )
