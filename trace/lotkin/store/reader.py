"""Reading for answers: walks, what lies where, who is held, what happened to an item."""

from __future__ import annotations

import json
import sqlite3
from typing import TYPE_CHECKING

from sqlalchemy import func, or_, select, type_coerce
from sqlalchemy.types import NullType

from lotkin.core.chain import ChainRow
from lotkin.core.items import Item, Link, Movement
from lotkin.core.places import End, Spot
from lotkin.core.window import amended_at
from lotkin.store.rows import (
    FACT,
    FACT_PAST,
    ITEM,
    ITEM_PAST,
    JOURNAL,
    LINK,
    LINK_PAST,
    MOVEMENT,
    MOVEMENT_PAST,
    SPOT,
    STOCK,
    entry_of,
    fact_of,
    item_of,
    link_of,
    select_items,
)
from lotkin.store.sql_view import LINK_PARTS, SqlView
from lotkin.store.stock_of_reach import StockOfReach
from lotkin.store.stock_sums import living, stock_sums, total
from lotkin.store.walk import Bounds, Direction, TooManyError, reach_from

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from sqlalchemy import Connection

    from lotkin.core.items import Fact
    from lotkin.core.plan import ShopPlan
    from lotkin.core.reach import Reach
    from lotkin.core.view import Entry
    from lotkin.store.graph.graphs import Graphs

__all__ = ["Reader"]


class Reader(SqlView):
    """A view that also answers questions about much at once."""

    def __init__(
        self,
        connection: Connection,
        plans: dict[tuple[int, str], ShopPlan] | None = None,
        graphs: Graphs | None = None,
    ) -> None:
        """Look at a connection; `graphs` is the copy of the graph, if there is one."""
        super().__init__(connection, plans)
        self._graphs = graphs

    def journal_head(self) -> tuple[int, str]:
        """Give number and hash of the last journal row, as noted apart from the journal."""
        return self.head_noted()

    def item_as_of(self, code: str, as_of: int | None) -> Item | None:
        """Give an item as it read at a journal position; None for now."""
        if as_of is None:
            return self.item(code)
        item = living(ITEM, ITEM_PAST, as_of)
        rows = self._rows(select_items(item).where(item.c.code == code))
        if not rows:
            return None
        self.numbers[code] = rows[0][0]
        return item_of(rows[0])

    def children_then(self, code: str, as_of: int | None) -> list[tuple[Link, Item, int]]:
        """List (link, child, microseconds UTC of its event) below an item at a position."""
        link, item = living(LINK, LINK_PAST, as_of), living(ITEM, ITEM_PAST, as_of)
        parts = [link.c[column.name] for column in LINK_PARTS]
        query = (
            select(*parts, *select_items(item).selected_columns)
            .join(item, item.c.id == link.c.child)
            .where(link.c.parent == self.number(code))
        )
        found = []
        for row in self._rows(query):
            child = item_of(row[len(parts) :])
            there = link_of(row[: len(parts)], code, child.code)
            own = child.event == there.event and child.made_at is not None
            at = child.made_at if own else self._at_then(there.event, as_of)
            found.append((there, child, at or 0))
        return found

    def _at_then(self, seq: int, as_of: int | None) -> int:
        """Tell when an event took place, as it read at a journal position."""
        fact = living(FACT, FACT_PAST, as_of)
        query = (
            select(fact.c.value)
            .where(fact.c.topic == "amended", fact.c.subject == str(seq))
            .order_by(fact.c.event.desc())
        )
        rows = self._rows(query.limit(1))
        if not rows:
            return self.entry(seq).at
        return amended_at(json.loads(rows[0][0]))

    def reach(
        self,
        codes: Sequence[str],
        direction: Direction,
        *,
        as_of: int | None = None,
        first: Sequence[str] | None = None,
    ) -> Reach:
        """Walk from items and give what is reached, the items themselves included.

        Args:
            codes: Exact codes of items.
            direction: `down` or `up`.
            as_of: Journal position; None for now.
            first: Codes to go on from instead of all direct neighbours.
        """
        starts = [self.number(code) for code in codes]
        goes_on = None if first is None else [self.number(code) for code in first]
        graphs = self._graphs if as_of is None else None
        bounds = Bounds(as_of, goes_on, None if graphs is None else graphs.few())
        try:
            self._reached = reach_from(self.connection, starts, direction, bounds)
        except TooManyError:
            assert graphs is not None
            found = graphs.reach(self.connection, starts, direction, goes_on)
            whole = bounds._replace(most=None)
            self._reached = found or reach_from(self.connection, starts, direction, whole)
        return self._reached.reach

    def reached_stock(self, as_of: int | None = None) -> Mapping[int, Mapping[Spot, int]]:
        """Map the positions of the last reach to what lies where, ends included."""
        _, position, rows = self._reached
        if rows is None or as_of is not None:
            sums = stock_sums(self.connection, list(position), as_of)
            return {
                position[item]: {self.spot(s): q for s, q in of_item.items() if q}
                for item, of_item in sums.items()
            }
        for spot in {row[1] for row in rows}:
            self.spot(spot)
        return StockOfReach(rows, position, self.spot_names)

    def holds(self, as_of: int | None = None) -> dict[str, str]:
        """Map the code of every held item to the reason."""
        fact = living(FACT, FACT_PAST, as_of)
        query = select(fact).where(fact.c.topic == "hold").order_by(fact.c.event, fact.c.ordinal)
        holds = {row.subject: str(fact_of(row).value["reason"]) for row in self._rows(query)}
        return {code: reason for code, reason in holds.items() if reason}

    def batch_remainder(self, batch: str, as_of: int | None = None) -> list[tuple[str, Spot, int]]:
        """List (lot, spot, millionths) of what a batch had that did not become a treated lot.

        Pieces still at the supplier stand at that place; pieces found are lost less than zero.
        """
        movement, item = living(MOVEMENT, MOVEMENT_PAST, as_of), living(ITEM, ITEM_PAST, as_of)
        came, went = SPOT.alias("came"), SPOT.alias("went")
        query = (
            select(
                item.c.code,
                came.c.place,
                came.c.within,
                went.c.place,
                went.c.within,
                total(movement.c.quantity),
            )
            .join_from(movement, went, went.c.id == movement.c.destination)
            .outerjoin(came, came.c.id == movement.c.origin)
            .join(item, item.c.id == movement.c.item)
            .where(or_(came.c.within == batch, went.c.within == batch))
            .group_by(item.c.code, came.c.id, went.c.id)
        )
        sums: dict[tuple[str, Spot], int] = {}
        for code, from_place, from_within, place, within, quantity in self._rows(query):
            if within == batch:
                key = (code, Spot(place, within))
                sums[key] = sums.get(key, 0) + int(quantity)
                if from_place in (End.LOST, End.SCRAP):
                    end = (code, Spot(from_place))
                    sums[end] = sums.get(end, 0) - int(quantity)
            if from_within == batch:
                key = (code, Spot(from_place, from_within))
                sums[key] = sums.get(key, 0) - int(quantity)
                if place in (End.LOST, End.SCRAP, End.SAMPLE):
                    end = (code, Spot(place))
                    sums[end] = sums.get(end, 0) + int(quantity)
        return [(code, spot, q) for (code, spot), q in sorted(sums.items()) if q]

    # --- history

    def events_of(self, code: str) -> list[int]:
        """List the numbers of the events that an item had a part in, in order."""
        number = self.number(code)
        seqs: set[int] = set()
        for query in (
            select(ITEM.c.event).where(ITEM.c.id == number),
            select(LINK.c.event).where(or_(LINK.c.parent == number, LINK.c.child == number)),
            select(MOVEMENT.c.event).where(MOVEMENT.c.item == number),
            select(FACT.c.event).where(FACT.c.subject == code),
            select(ITEM_PAST.c.until).where(ITEM_PAST.c.id == number),
            select(LINK_PAST.c.until).where(
                or_(LINK_PAST.c.parent == number, LINK_PAST.c.child == number)
            ),
            select(FACT_PAST.c.until).where(FACT_PAST.c.subject == code),
        ):
            seqs |= {int(row[0]) for row in self._rows(query)}
        return sorted(seqs)

    def states_of(self, serial: str) -> list[Item]:
        """List all states of a serial, the first one first."""
        query = select_items().where(
            or_(ITEM.c.code == serial, ITEM.c.code.startswith(serial + "/", autoescape=True))
        )
        found = [item_of(row) for row in self._rows(query)]
        return sorted((i for i in found if i.serial == serial), key=lambda item: item.event)

    # --- everything

    def entries_of(
        self, kinds: Sequence[str] = (), *, start: int | None = None, end: int | None = None
    ) -> list[Entry]:
        """List the journal rows of some kinds of events that happened in a time, in order.

        Args:
            kinds: Kinds of events; empty for all that broke a rule.
            start, end: Microseconds UTC, inclusive; None for no limit.
        """
        query = select(JOURNAL).where(
            JOURNAL.c.kind.in_(kinds) if kinds else JOURNAL.c.breaches != "[]"
        )
        if start is not None:
            query = query.where(JOURNAL.c.at >= start)
        if end is not None:
            query = query.where(JOURNAL.c.at <= end)
        return [entry_of(row) for row in self._rows(query.order_by(JOURNAL.c.seq))]

    def event_times(self) -> dict[int, tuple[int, int]]:
        """Map the number of every event to when it happened, as first sent, and was recorded."""
        query = select(JOURNAL.c.seq, JOURNAL.c.at, JOURNAL.c.recorded_at)
        return {int(seq): (int(at), int(recorded)) for seq, at, recorded in self._rows(query)}

    def facts_of(self, topic: str) -> list[Fact]:
        """List the living facts of a topic in order of subject, time and event."""
        order = (FACT.c.subject, FACT.c.at, FACT.c.event, FACT.c.ordinal)
        return [
            fact_of(row)
            for row in self._rows(select(FACT).where(FACT.c.topic == topic).order_by(*order))
        ]

    def all_stock(self) -> list[tuple[str, Spot, int]]:
        """List (item, spot, millionths) of all that lies anywhere, ends included."""
        query = (
            select(ITEM.c.code, SPOT.c.place, SPOT.c.within, STOCK.c.quantity)
            .join_from(STOCK, ITEM, ITEM.c.id == STOCK.c.item)
            .join(SPOT, SPOT.c.id == STOCK.c.spot)
            .order_by(ITEM.c.code, SPOT.c.place, SPOT.c.within)
        )
        return [(row[0], Spot(row[1], row[2]), int(row[3])) for row in self._rows(query)]

    def last_moves(self) -> dict[str, int]:
        """Map the code of every item whose pieces were moved to the last event that did so."""
        query = (
            select(ITEM.c.code, func.max(MOVEMENT.c.event))
            .join_from(MOVEMENT, ITEM, ITEM.c.id == MOVEMENT.c.item)
            .group_by(ITEM.c.code)
        )
        return {row[0]: int(row[1]) for row in self._rows(query)}

    def entries(self) -> Iterator[Entry]:
        """Yield the whole journal in order; other statements may run in between."""
        last = 0
        while True:
            query = select(JOURNAL).where(JOURNAL.c.seq > last).order_by(JOURNAL.c.seq)
            rows = self._rows(query.limit(500))
            if not rows:
                return
            yield from map(entry_of, rows)
            last = rows[-1].seq

    def chain_rows(self) -> Iterator[ChainRow]:
        """Yield the whole journal as it is stored, in order, nothing of it parsed."""
        columns = [
            type_coerce(JOURNAL.c[name], NullType()).label(name) for name in ChainRow._fields
        ]
        query = select(*columns).order_by(JOURNAL.c.seq).execution_options(yield_per=1000)
        raw = self.connection.connection.dbapi_connection
        if isinstance(raw, sqlite3.Connection):
            # what is no text any more is damage to be named, not an end of the reading
            raw.text_factory = _any_text
        try:
            for row in self.connection.execute(query):
                values = list(row)
                values[7] = int(values[7]) if isinstance(values[7], bool) else values[7]
                yield ChainRow(*values)
        finally:
            if isinstance(raw, sqlite3.Connection):
                raw.text_factory = str

    def all_items(self) -> Iterator[Item]:
        """Yield all living items in order of code."""
        query = select_items().order_by(ITEM.c.code).execution_options(yield_per=1000)
        for row in self.connection.execute(query):
            yield item_of(row)

    def all_links(self) -> Iterator[Link]:
        """Yield all living links in order of child, event, group and parent."""
        parent, child = ITEM.alias("parents"), ITEM.alias("children")
        query = (
            select(parent.c.code, child.c.code, *LINK_PARTS)
            .join_from(LINK, parent, parent.c.id == LINK.c.parent)
            .join(child, child.c.id == LINK.c.child)
            .order_by(child.c.code, LINK.c.event, LINK.c.grp, parent.c.code)
            .execution_options(yield_per=1000)
        )
        for row in self.connection.execute(query):
            yield link_of(row[2:], row[0], row[1])

    def all_movements(self) -> Iterator[Movement]:
        """Yield all living movements in order of event and item."""
        query = (
            select(
                ITEM.c.code,
                MOVEMENT.c.quantity,
                MOVEMENT.c.origin,
                MOVEMENT.c.destination,
                MOVEMENT.c.event,
            )
            .join_from(MOVEMENT, ITEM, ITEM.c.id == MOVEMENT.c.item)
            .order_by(MOVEMENT.c.event, ITEM.c.code, MOVEMENT.c.number)
            .execution_options(yield_per=1000)
        )
        for code, quantity, origin, destination, event in self.connection.execute(query):
            before = None if origin is None else self.spot(origin)
            yield Movement(code, quantity, before, self.spot(destination), event)

    def all_facts(self) -> Iterator[Fact]:
        """Yield all living facts in order of topic, subject, time and event."""
        order = (FACT.c.topic, FACT.c.subject, FACT.c.at, FACT.c.event, FACT.c.ordinal)
        for row in self.connection.execute(select(FACT).order_by(*order)):
            yield fact_of(row)


def _any_text(value: bytes) -> str:
    return value.decode("utf-8", "surrogateescape")
