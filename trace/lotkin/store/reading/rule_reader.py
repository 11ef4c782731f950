"""What is stored, as the rules ask for it: the core's `View` over SQL, for one transaction."""

from __future__ import annotations

import difflib
from collections import defaultdict
from typing import TYPE_CHECKING, Any

from lotkin.core.errors import UnknownCode
from lotkin.core.values.places import Spot
from lotkin.core.values.printed_numbers import folded
from lotkin.store.connection.statements import beginning
from lotkin.store.reading.fact_order import in_time, newest
from lotkin.store.reading.fact_reader import FactReader
from lotkin.store.reading.filling import events_filling
from lotkin.store.reading.journal_reader import WORTH_LOOKING_UP
from lotkin.store.reading.rule_statements import (
    ALL_SPOTS,
    ANY_CHILD,
    CODES_BEGINNING,
    CODES_MADE_BY,
    HIGHEST,
    HIGHEST_PAST,
    ITEM_BY_CODE,
    ITEM_BY_NUMBER,
    ITEMS_CARRYING,
    ITEMS_OF,
    LABELS,
    LINKS_INTO,
    LINKS_OUT_OF,
    STOCK_OF,
    STOCK_WITHIN,
)
from lotkin.store.reading.shipped import places_shipped_to
from lotkin.store.tables.records import (
    fact_of,
    item_of,
    link_of,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from lotkin.core.genealogy.items import Item, Link
    from lotkin.core.plan import ShopPlan
    from lotkin.store.connection.database import Database

__all__ = ["SqlView"]


class SqlView(FactReader):
    """Answers the rules' questions; keeps what it was asked, and what is about to be written.

    A question about something that was not asked before goes to the database; what this
    transaction has added since is laid over the answer, so nothing must be written to be seen.
    """

    def __init__(
        self, database: Database, plans: dict[tuple[int, str], ShopPlan] | None = None
    ) -> None:
        """Look at a transaction; `plans` are those other views have read, by event and hash."""
        super().__init__(database, plans)
        self.numbers: dict[str, int] = {}
        self.codes: dict[int, str] = {}
        self.items: dict[str, Item | None] = {}
        self.spots: dict[Spot, int] = {}
        self.spot_names: dict[int, Spot] = {}
        self.stocks: dict[str, dict[Spot, int]] = {}
        self.parent_lists: dict[str, list[Link]] = {}
        self.child_lists: dict[str, list[Link]] = {}
        self.new_parents: dict[str, list[Link]] = defaultdict(list)
        self.new_children: dict[str, list[Link]] = defaultdict(list)

    def forget(self) -> None:
        """Drop all that is remembered; what was added must have been written."""
        for kept in (
            self.numbers,
            self.codes,
            self.items,
            self.stocks,
            self.fact_lists,
            self.topics,
            self.parent_lists,
            self.child_lists,
            self.new_facts,
            self.new_parents,
            self.new_children,
            self.new_entries,
            self.new_ids,
        ):
            kept.clear()

    def flush(self) -> None:
        """Write what is waiting; a view that only reads has nothing waiting."""

    # --- items

    def item(self, code: str) -> Item | None:
        """Give the item of exactly this code."""
        if code in self.items:
            return self.items[code]
        rows = ITEM_BY_CODE.rows(self.database, code=code)
        found = self._keep(rows[0]) if rows else None
        self.items[code] = found
        return found

    def look_up(self, codes: Iterable[str]) -> None:
        """Fetch items, and what their codes lead to, that will be asked about; all at once."""
        new = [code for code in dict.fromkeys(codes) if code not in self.items]
        if len(new) < WORTH_LOOKING_UP:
            return
        self.items.update(dict.fromkeys(new))
        for row in ITEMS_OF.rows(self.database, new):
            self._keep(row)
        wanted = [code for code in new if ("label", code) not in self.fact_lists]
        labels = [fact_of(row) for row in LABELS.rows(self.database, wanted)]
        for code in wanted:
            self.fact_lists["label", code] = sorted(
                self.new_facts.get(("label", code), []), key=in_time
            )
        for fact in labels:
            self.fact_lists["label", fact.subject].append(fact)
        for fact in labels:
            self.fact_lists["label", fact.subject].sort(key=in_time)

    def _keep(self, row: Sequence[Any]) -> Item:
        item = item_of(row)
        self.items[item.code] = item
        self.numbers[item.code] = row[0]
        self.codes[row[0]] = item.code
        return item

    def number(self, code: str) -> int:
        """Give the number of an item in the tables."""
        number = self.numbers.get(code)
        if number is None:
            if self.item(code) is None:
                raise UnknownCode(code)
            number = self.numbers[code]
        return number

    def code_of(self, number: int) -> str:
        """Give the code of an item by its number in the tables."""
        code = self.codes.get(number)
        if code is None:
            code = self._keep(ITEM_BY_NUMBER.rows(self.database, number=number)[0]).code
        return code

    def label(self, text: str) -> str | None:
        """Give the code of the item that a serial or label leads to now."""
        facts = self.facts("label", text)
        return str(max(facts, key=newest).value["item"]) if facts else None

    def carrying(self, supplier_lot: str) -> Sequence[Item]:
        """List the items that carry this number of a supplier, however spelled, by code."""
        upper = folded(supplier_lot)
        spelled = {supplier_lot, upper, upper.lower()}
        rows = ITEMS_CARRYING.rows(
            self.database, lot=supplier_lot, upper=upper, lower=upper.lower()
        )
        stored = {row[1]: self.items.get(row[1]) or self._keep(row) for row in rows}
        for item in self.items.values():
            if item is not None and item.supplier_lot in spelled:
                stored[item.code] = item
        for fact in self.facts("number", upper) if upper else ():
            found = self.item(str(fact.value["item"]))
            if found is not None:
                stored[found.code] = found
        return [stored[code] for code in sorted(stored)] if supplier_lot else []

    def made_by(self, seq: int) -> Sequence[str]:
        """List the codes of the items that an event made, as it reads now."""
        stored = {row[0] for row in CODES_MADE_BY.rows(self.database, seq=seq)}
        stored |= {i.code for i in self.items.values() if i is not None and i.event == seq}
        return sorted(stored)

    def near(self, text: str) -> Sequence[str]:
        """List recorded codes that resemble `text`: same beginning or, failing that, alike."""
        rows = CODES_BEGINNING.rows(self.database, start=beginning(text[: max(3, len(text) - 2)]))
        return difflib.get_close_matches(text, [row[0] for row in rows], n=3, cutoff=0.5)

    # --- links

    def parents(self, code: str) -> Sequence[Link]:
        """List the links into an item, in order of (event, group, parent)."""
        if code not in self.parent_lists and self.item(code) is None:
            return []
        if code not in self.parent_lists:
            rows = LINKS_INTO.rows(self.database, number=self.number(code))
            stored = [link_of(row[1:], self.code_of(row[0]), code) for row in rows]
            self.parent_lists[code] = stored + self.new_parents[code]
        return self.parent_lists[code]

    def children(self, code: str) -> Sequence[Link]:
        """List the links out of an item, in order of (event, group, child)."""
        if code not in self.child_lists and self.item(code) is None:
            return []
        if code not in self.child_lists:
            rows = LINKS_OUT_OF.rows(self.database, number=self.number(code))
            stored = [link_of(row[1:], code, self.code_of(row[0])) for row in rows]
            self.child_lists[code] = stored + self.new_children[code]
        return self.child_lists[code]

    def is_used(self, code: str) -> bool:
        """Tell whether anything is made from the item."""
        if code in self.child_lists or self.item(code) is None:
            return bool(self.child_lists.get(code))
        if self.new_children.get(code):
            return True
        return bool(ANY_CHILD.rows(self.database, number=self.number(code)))

    # --- stock

    def spot(self, number: int) -> Spot:
        """Give a spot by its number in the tables."""
        if number not in self.spot_names:
            for row in ALL_SPOTS.rows(self.database):
                self._keep_spot(row[0], Spot(row[1], row[2]))
        return self.spot_names[number]

    def _keep_spot(self, number: int, spot: Spot) -> None:
        self.spot_names[number] = spot
        self.spots[spot] = number

    def stock(self, code: str) -> dict[Spot, int]:
        """Map each spot to the millionths of the item there, ends included, zeros left out."""
        known = self.stocks.get(code)
        if known is None and self.item(code) is None:
            return {}
        if known is None:
            known = {}
            for number, place, within, quantity in STOCK_OF.rows(
                self.database, number=self.number(code)
            ):
                spot = Spot(place, within)
                self._keep_spot(number, spot)
                known[spot] = quantity
            self.stocks[code] = known
        return known

    def within(self, container: str) -> Sequence[tuple[str, Spot, int]]:
        """List (item, spot, millionths) of what lies within a carton or outside batch."""
        self.flush()
        rows = STOCK_WITHIN.rows(self.database, container=container)
        return [(row[0], Spot(row[1], row[2]), row[3]) for row in rows]

    def filling(self, container: str) -> Sequence[int]:
        """List the numbers of the events that put anything into a carton or outside batch."""
        self.flush()
        return events_filling(self.database, container)

    def places_shipped_to(self) -> frozenset[str]:
        """Give the places that any shipment took something to."""
        self.flush()
        return places_shipped_to(self.database)

    # --- numbers

    def highest_number(self) -> int:
        """Give the highest number that an item ever had."""
        living, past = HIGHEST.first(self.database), HIGHEST_PAST.first(self.database)
        return int(max(living or 0, past or 0))
