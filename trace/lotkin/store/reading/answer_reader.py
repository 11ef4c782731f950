"""Reading for answers: walks, what lies where, who is held, what happened to an item."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.answers.window import amended_at
from lotkin.core.genealogy.items import Item, Link
from lotkin.core.values.places import End, Spot
from lotkin.store.connection.statements import Ask, beginning, columns, living
from lotkin.store.reading.answer_statements import (
    ALL_STOCK,
    EVENT_TIMES,
    EVENTS_OF,
    FACTS_OF,
    ITEM_PARTS,
    LAST_MOVES,
    STATES,
)
from lotkin.store.reading.journal_reader import JOURNAL
from lotkin.store.reading.shipped import places_named
from lotkin.store.reading.whole_reader import WholeReader
from lotkin.store.tables.journal_head import head_of
from lotkin.store.tables.records import (
    FACT_COLUMNS,
    LINK_COLUMNS,
    entry_of,
    fact_of,
    item_of,
    link_of,
)

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from lotkin.core.exposure.reach import Reach
    from lotkin.core.genealogy.items import Fact
    from lotkin.core.genealogy.view import Entry
    from lotkin.core.plan import ShopPlan
    from lotkin.store.connection.database import Database
    from lotkin.store.graph.snapshot import Graphs
    from lotkin.store.graph.walk import Direction

__all__ = ["Reader"]


class Reader(WholeReader):
    """A view that also answers questions about much at once."""

    def __init__(
        self,
        database: Database,
        plans: dict[tuple[int, str], ShopPlan] | None = None,
        graphs: Graphs | None = None,
    ) -> None:
        """Look at a transaction; `graphs` is the copy of the graph, if there is one."""
        super().__init__(database, plans)
        self._graphs = graphs

    def journal_head(self) -> tuple[int, str]:
        """Give number and hash of the last journal row, as noted apart from the journal."""
        return head_of(self.database)

    def item_as_of(self, code: str, as_of: int | None) -> Item | None:
        """Give an item as it read at a journal position; None for now."""
        if as_of is None:
            return self.item(code)
        then = living("item", ITEM_PARTS, as_of)
        query = Ask(f"SELECT {columns(ITEM_PARTS)} FROM {then} AS item WHERE code = :code")
        rows = query.rows(self.database, code=code)
        if not rows:
            return None
        self.numbers[code] = rows[0][0]
        return item_of(rows[0])

    def children_then(self, code: str, as_of: int | None) -> list[tuple[Link, Item, int]]:
        """List (link, child, microseconds UTC of its event) below an item at a position."""
        links = living("link", ("parent", "child", *LINK_COLUMNS), as_of)
        items = living("item", ITEM_PARTS, as_of)
        query = Ask(
            f"SELECT {columns(LINK_COLUMNS, 'link')}, {columns(ITEM_PARTS, 'item')} "
            f"FROM {links} AS link JOIN {items} AS item ON item.id = link.child "
            "WHERE link.parent = :number"
        )
        found = []
        for row in query.rows(self.database, number=self.number(code)):
            child = item_of(row[len(LINK_COLUMNS) :])
            there = link_of(row[: len(LINK_COLUMNS)], code, child.code)
            own = child.event == there.event and child.made_at is not None
            at = child.made_at if own else self._at_then(there.event, as_of)
            found.append((there, child, at or 0))
        return found

    def _at_then(self, seq: int, as_of: int | None) -> int:
        """Tell when an event took place, as it read at a journal position."""
        then = living("fact", FACT_COLUMNS, as_of)
        query = Ask(
            f"SELECT {columns(FACT_COLUMNS)} FROM {then} AS fact "
            "WHERE topic = 'amended' AND subject = :subject ORDER BY event DESC LIMIT 1"
        )
        rows = query.rows(self.database, subject=str(seq))
        if not rows:
            return self.entry(seq).at
        return amended_at(fact_of(rows[0]).value)

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
        # numbers alone are found without it
        from lotkin.store.graph.walk import Bounds, TooManyError, reach_from  # noqa: PLC0415

        starts = [self.number(code) for code in codes]
        goes_on = None if first is None else [self.number(code) for code in first]
        graphs = self._graphs if as_of is None else None
        bounds = Bounds(as_of, goes_on, None if graphs is None else graphs.few(direction))
        try:
            self._reached = reach_from(self.database, starts, direction, bounds)
        except TooManyError:
            assert graphs is not None
            found = graphs.reach(self.database, starts, direction, goes_on)
            whole = bounds._replace(most=None)
            self._reached = found or reach_from(self.database, starts, direction, whole)
        return self._reached.reach

    def reached_stock(self, as_of: int | None = None) -> Mapping[int, Mapping[Spot, int]]:
        """Map the positions of the last reach to what lies where, ends included."""
        from lotkin.store.stock.stock_of_reach import StockOfReach  # noqa: PLC0415 - as for `reach`
        from lotkin.store.stock.stock_sums import stock_sums  # noqa: PLC0415

        _, position, rows = self._reached
        if rows is None or as_of is not None:
            sums = stock_sums(self.database, list(position), as_of)
            return {
                position[item]: {self.spot(s): q for s, q in of_item.items() if q}
                for item, of_item in sums.items()
            }
        for spot in {row[1] for row in rows}:
            self.spot(spot)
        return StockOfReach(rows, position, self.spot_names)

    def places_named(self) -> frozenset[str]:
        """Give all places and ends where anything ever was."""
        return places_named(self.database)

    def holds(self, as_of: int | None = None) -> dict[str, str]:
        """Map the code of every held item to the reason."""
        then = living("fact", FACT_COLUMNS, as_of)
        query = Ask(
            f"SELECT {columns(FACT_COLUMNS)} FROM {then} AS fact "
            "WHERE topic = 'hold' ORDER BY event, ordinal"
        )
        facts = map(fact_of, query.rows(self.database))
        holds = {fact.subject: str(fact.value["reason"]) for fact in facts}
        return {code: reason for code, reason in holds.items() if reason}

    def batch_remainder(self, batch: str, as_of: int | None = None) -> list[tuple[str, Spot, int]]:
        """List (lot, spot, millionths) of what a batch had that did not become a treated lot.

        Pieces still at the supplier stand at that place; pieces found are lost less than zero.
        """
        moves = living("movement", ("item", "quantity", "origin", "destination"), as_of)
        items = living("item", ("id", "code"), as_of)
        query = Ask(
            "SELECT item.code, came.place, came.within, went.place, went.within, "
            "CAST(sum(movement.quantity) AS BIGINT) "
            f"FROM {moves} AS movement JOIN spot AS went ON went.id = movement.destination "
            "LEFT JOIN spot AS came ON came.id = movement.origin "
            f"JOIN {items} AS item ON item.id = movement.item "
            "WHERE came.within = :batch OR went.within = :batch "
            "GROUP BY item.code, came.id, came.place, came.within, went.id, went.place, went.within"
        )
        sums: dict[tuple[str, Spot], int] = {}
        rows = query.rows(self.database, batch=batch)
        for code, from_place, from_within, place, within, quantity in rows:
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
        rows = EVENTS_OF.rows(self.database, number=self.number(code), code=code)
        return [int(row[0]) for row in rows]

    def states_of(self, serial: str) -> list[Item]:
        """List all states of a serial, the first one first."""
        rows = STATES.rows(self.database, serial=serial, start=beginning(f"{serial}/"))
        found = map(item_of, rows)
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
        values: dict[str, str | int] = {f"kind{i}": kind for i, kind in enumerate(kinds)}
        listed = ", ".join(f":{name}" for name in values)
        wanted = f"kind IN ({listed})" if kinds else "breaches <> '[]'"
        if start is not None:
            wanted += ' AND "at" >= :first'
            values["first"] = start
        if end is not None:
            wanted += ' AND "at" <= :last'
            values["last"] = end
        query = Ask(f"{JOURNAL} WHERE {wanted} ORDER BY seq")
        return [entry_of(row) for row in query.rows(self.database, **values)]

    def event_times(self) -> dict[int, tuple[int, int]]:
        """Map the number of every event to when it happened, as first sent, and was recorded."""
        rows = EVENT_TIMES.rows(self.database)
        return {int(seq): (int(at), int(recorded)) for seq, at, recorded in rows}

    def facts_of(self, topic: str) -> list[Fact]:
        """List the living facts of a topic in order of subject, time and event."""
        return [fact_of(row) for row in FACTS_OF.rows(self.database, topic=topic)]

    def all_stock(self) -> list[tuple[str, Spot, int]]:
        """List (item, spot, millionths) of all that lies anywhere, ends included."""
        rows = ALL_STOCK.rows(self.database)
        return [(row[0], Spot(row[1], row[2]), int(row[3])) for row in rows]

    def last_moves(self) -> dict[str, int]:
        """Map the code of every item whose pieces were moved to the last event that did so."""
        return {row[0]: int(row[1]) for row in LAST_MOVES.rows(self.database)}
