"""Writing effects: new rows gathered and written together, superseded rows set aside."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.errors import CodeTaken, StoreUnreadable
from lotkin.core.genealogy.items import Movement
from lotkin.core.genealogy.view import Entry
from lotkin.core.values.places import End, Spot
from lotkin.store.connection.bulk import put_rows
from lotkin.store.connection.statements import Ask, Change
from lotkin.store.reading.rule_reader import SqlView
from lotkin.store.schema import Row, meta_row, movement_row, spot_row, stock_row
from lotkin.store.tables.journal_head import head_of
from lotkin.store.tables.records import entry_row, fact_row, item_row, link_row

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.genealogy.items import Fact, Item, Link
    from lotkin.core.plan import ShopPlan
    from lotkin.store.connection.database import Database

__all__ = ["Writer"]

REMEMBER_AT_MOST = 200_000
"""Items that are kept in mind between transactions, or within a long one."""

WAIT_AT_MOST = 50_000
"""Rows that are gathered before they are written."""

UPDATE_STOCK = Change("UPDATE stock SET quantity = :quantity WHERE item = :item AND spot = :spot")
DELETE_STOCK = Change("DELETE FROM stock WHERE item = :item AND spot = :spot")
HIGHEST_SPOT = Ask("SELECT max(id) FROM spot")
ANY_EVENT = Ask("SELECT seq FROM journal LIMIT 1")
SPOT_NAMED = Ask("SELECT id FROM spot WHERE place = :place AND within = :within")
NOTE = Change("UPDATE meta SET value = :said WHERE key = :noted")
WRITTEN = ("spot", "journal", "item", "link", "movement", "fact")
"""Tables in the order in which they are written."""


class Writer(SqlView):
    """A view that also adds; everything added can be seen at once and is written by `flush`."""

    def __init__(
        self, database: Database, plans: dict[tuple[int, str], ShopPlan] | None = None
    ) -> None:
        super().__init__(database, plans)
        self.start_numbering()
        self._waiting: dict[str, list[Row]] = {table: [] for table in WRITTEN}
        self._stock_before: dict[tuple[str, Spot], int] = {}
        self.head = self._read_head()

    def start_numbering(self) -> None:
        """Number new items and spots on from the highest that there ever was."""
        self._next = self.highest_number() + 1
        self._next_spot = 1 + (HIGHEST_SPOT.first(self.database) or 0)

    def _read_head(self) -> tuple[int, str]:
        head = head_of(self.database)
        if not head[0] and ANY_EVENT.rows(self.database):
            raise StoreUnreadable(
                self.database.where, "the end of its journal is not noted any more"
            )
        return head

    # --- adding

    def add_entry(self, entry: Entry) -> None:
        """Append a row to the journal."""
        self._waiting["journal"].append(entry_row(entry))
        self.new_entries[entry.seq] = entry
        self.new_ids[entry.id] = entry.seq
        self.unknown_ids.discard(entry.id)
        self.head = (entry.seq, entry.hash)

    def add(self, draft: Draft, seq: int) -> None:
        """Add all rows of a draft that supersedes nothing."""
        for item in draft.items.values():
            self.add_item(item, seq)
        self._add_links(draft.links, seq)
        for movement in draft.movements:
            self.add_movement(movement, seq)
        for fact in draft.facts_made:
            self.add_fact(fact, seq)
        for lot, spot, quantity in draft.consumed:
            self.shift(lot, spot, -quantity)
            self.shift(lot, Spot(End.USED_IN), quantity)

    def add_item(self, item: Item, seq: int) -> None:
        """Add an item under the next number."""
        code = item.code
        if self.item(code) is not None:
            raise CodeTaken(code)
        number = self._next
        self._next += 1
        self.items[code] = item
        self.numbers[code] = number
        self.codes[number] = code
        self.parent_lists[code] = []
        self.child_lists[code] = []
        self.stocks[code] = {}
        self._waiting["item"].append(item_row(number, item, seq))

    def add_link(self, link: Link, seq: int) -> None:
        """Add a link."""
        self._add_links([link], seq)

    def _add_links(self, links: Sequence[Link], seq: int) -> None:
        numbers, waiting = self.numbers, self._waiting["link"]
        for link in links:
            parent, child = link.parent, link.child
            above, below = numbers.get(parent), numbers.get(child)
            if above is None or below is None:
                above, below = self.number(parent), self.number(child)
            waiting.append(link_row(link, above, below, seq))
            known = self.parent_lists.get(child)
            (self.new_parents[child] if known is None else known).append(link)
            known = self.child_lists.get(parent)
            (self.new_children[parent] if known is None else known).append(link)

    def add_movement(self, movement: Movement, seq: int) -> None:
        """Add a movement and shift the stock by it."""
        code, quantity, origin, destination, event = movement
        came = None if origin is None else self.spot_number(origin)
        went = self.spot_number(destination)
        self._waiting["movement"].append(
            movement_row(
                item=self.number(code),
                quantity=quantity,
                origin=came,
                destination=went,
                event=event,
                since=seq,
            )
        )
        if origin is not None:
            self.shift(code, origin, -quantity)
        self.shift(code, destination, quantity)

    def add_fact(self, fact: Fact, seq: int) -> None:
        """Add a fact."""
        self._waiting["fact"].append(fact_row(fact, seq))
        if fact.topic in self.topics:
            self.topics[fact.topic].append(fact)
        key = (fact.topic, fact.subject)
        if key in self.fact_lists:
            self.fact_lists[key].append(fact)
            self.fact_lists[key].sort(key=lambda f: (f.at, f.event, f.ordinal))
        else:
            self.new_facts[key].append(fact)

    def spot_number(self, spot: Spot) -> int:
        """Give the number of a spot in the tables; a new one gets the next."""
        number = self.spots.get(spot)
        if number is None:
            rows = SPOT_NAMED.rows(self.database, place=spot.place, within=spot.within)
            if rows:
                number = int(rows[0][0])
            else:
                number = self._next_spot
                self._next_spot += 1
                self._waiting["spot"].append(
                    spot_row(id=number, place=spot.place, within=spot.within)
                )
            self._keep_spot(number, spot)
        return number

    def shift(self, code: str, spot: Spot, quantity: int) -> None:
        """Change how much of an item is at a spot."""
        self._change_stock(code, spot, self.stock(code), quantity)

    def set_stock(self, code: str, spot: Spot, quantity: int) -> None:
        """Say how much of an item is at a spot."""
        stock = self.stock(code)
        self._change_stock(code, spot, stock, quantity - stock.get(spot, 0))

    def _change_stock(self, code: str, spot: Spot, stock: dict[Spot, int], by: int) -> None:
        before = stock.get(spot, 0)
        self._stock_before.setdefault((code, spot), before)
        if spot not in self.spots:
            self.spot_number(spot)
        quantity = before + by
        if quantity:
            stock[spot] = quantity
        else:
            stock.pop(spot, None)

    # --- writing

    def flush(self) -> None:
        """Write all that was added."""
        for table, rows in self._waiting.items():
            put_rows(self.database, table, rows)
            rows.clear()
        self._flush_stock()
        self.new_facts.clear()
        self.new_parents.clear()
        self.new_children.clear()
        self.new_entries.clear()
        self.new_ids.clear()

    def _flush_stock(self) -> None:
        new: list[Row] = []
        changed: list[dict[str, int]] = []
        gone: list[dict[str, int]] = []
        for (code, spot), before in self._stock_before.items():
            now = self.stocks[code].get(spot, 0)
            item, at = self.numbers[code], self.spots[spot]
            if now == before:
                continue
            if not before:
                new.append(stock_row(item=item, spot=at, quantity=now))
            elif now:
                changed.append({"quantity": now, "item": item, "spot": at})
            else:
                gone.append({"item": item, "spot": at})
        self._stock_before.clear()
        put_rows(self.database, "stock", new)
        UPDATE_STOCK.each(self.database, changed)
        DELETE_STOCK.each(self.database, gone)

    def note(self, key: str, value: str) -> None:
        """Note something of the store as a whole."""
        if not NOTE.rows(self.database, noted=key, said=value):
            put_rows(self.database, "meta", [meta_row(key=key, value=value)])

    def finish(self) -> None:
        """Write everything, and note the head of the journal."""
        self.flush()
        if self.head[0]:
            self.note("head", f"{self.head[0]} {self.head[1]}")
        self._forget_much()

    def write_much(self) -> None:
        """Write what was added if it is much, so that a long transaction does not hold it all."""
        if sum(map(len, self._waiting.values())) > WAIT_AT_MOST:
            self.flush()
            self._forget_much()

    def _forget_much(self) -> None:
        if len(self.items) > REMEMBER_AT_MOST:
            self.forget()
