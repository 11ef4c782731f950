"""Writing effects: new rows gathered and written together, superseded rows set aside."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from lotkin.core.errors import CodeTaken, StoreUnreadable
from lotkin.core.items import Movement
from lotkin.core.places import End, Spot
from lotkin.core.view import Entry
from lotkin.store.bulk import put_rows
from lotkin.store.quick import Ask, Change
from lotkin.store.records import entry_row, fact_row, item_row, link_row
from lotkin.store.sql_view import SqlView

if TYPE_CHECKING:
    from lotkin.core.draft import Draft
    from lotkin.core.items import Fact, Item, Link
    from lotkin.core.plan import ShopPlan
    from lotkin.store.database import Database

__all__ = ["Writer"]

REMEMBER_AT_MOST = 200_000

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
        self._waiting: dict[str, list[dict[str, Any]]] = {}
        self._stock_before: dict[tuple[str, Spot], int] = {}
        self.head = self._read_head()

    def start_numbering(self) -> None:
        """Number new items and spots on from the highest that there ever was."""
        self._next = self.highest_number() + 1
        self._next_spot = 1 + (HIGHEST_SPOT.first(self.database) or 0)

    def _read_head(self) -> tuple[int, str]:
        head = self.head_noted()
        if not head[0] and ANY_EVENT.rows(self.database):
            raise StoreUnreadable(
                self.database.where, "the end of its journal is not noted any more"
            )
        return head

    def _wait(self, table: str, row: dict[str, Any]) -> None:
        self._waiting.setdefault(table, []).append(row)

    # --- adding

    def add_entry(self, entry: Entry) -> None:
        """Append a row to the journal."""
        self._wait("journal", entry_row(entry))
        self.new_entries[entry.seq] = entry
        self.new_ids[entry.id] = entry.seq
        self.head = (entry.seq, entry.hash)

    def add(self, draft: Draft, seq: int) -> None:
        """Add all rows of a draft that supersedes nothing."""
        for item in draft.items.values():
            self.add_item(item, seq)
        for link in draft.links:
            self.add_link(link, seq)
        for movement in draft.movements:
            self.add_movement(movement, seq)
        for fact in draft.facts_made:
            self.add_fact(fact, seq)
        for lot, spot, quantity in draft.consumed:
            self.shift(lot, spot, -quantity)
            self.shift(lot, Spot(End.USED_IN), quantity)

    def add_item(self, item: Item, seq: int) -> None:
        """Add an item under the next number."""
        if self.item(item.code) is not None:
            raise CodeTaken(item.code)
        number = self._next
        self._next += 1
        self.items[item.code] = item
        self.numbers[item.code] = number
        self.codes[number] = item.code
        self.parent_lists[item.code] = []
        self.child_lists[item.code] = []
        self.stocks[item.code] = {}
        self._wait("item", item_row(number, item, seq))

    def add_link(self, link: Link, seq: int) -> None:
        """Add a link."""
        row = link_row(link, self.number(link.parent), self.number(link.child), seq)
        self._wait("link", row)
        for lists, new, code in (
            (self.parent_lists, self.new_parents, link.child),
            (self.child_lists, self.new_children, link.parent),
        ):
            if code in lists:
                lists[code].append(link)
            else:
                new[code].append(link)

    def add_movement(self, movement: Movement, seq: int) -> None:
        """Add a movement and shift the stock by it."""
        origin = movement.origin
        self._wait(
            "movement",
            {
                "item": self.number(movement.item),
                "quantity": movement.quantity,
                "origin": None if origin is None else self.spot_number(origin),
                "destination": self.spot_number(movement.destination),
                "event": movement.event,
                "since": seq,
            },
        )
        if origin is not None:
            self.shift(movement.item, origin, -movement.quantity)
        self.shift(movement.item, movement.destination, movement.quantity)

    def add_fact(self, fact: Fact, seq: int) -> None:
        """Add a fact."""
        self._wait("fact", fact_row(fact, seq))
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
                self._wait("spot", {"id": number, "place": spot.place, "within": spot.within})
            self._keep_spot(number, spot)
        return number

    def shift(self, code: str, spot: Spot, quantity: int) -> None:
        """Change how much of an item is at a spot."""
        self.set_stock(code, spot, self.stock(code).get(spot, 0) + quantity)

    def set_stock(self, code: str, spot: Spot, quantity: int) -> None:
        """Say how much of an item is at a spot."""
        stock = self.stock(code)
        self._stock_before.setdefault((code, spot), stock.get(spot, 0))
        self.spot_number(spot)
        if quantity:
            stock[spot] = quantity
        else:
            stock.pop(spot, None)

    # --- writing

    def flush(self) -> None:
        """Write all that was added."""
        for table in WRITTEN:
            put_rows(self.database, table, self._waiting.pop(table, ()))
        self._flush_stock()
        self.new_facts.clear()
        self.new_parents.clear()
        self.new_children.clear()
        self.new_entries.clear()
        self.new_ids.clear()

    def _flush_stock(self) -> None:
        changes: dict[str, list[dict[str, Any]]] = {"insert": [], "update": [], "delete": []}
        for (code, spot), before in self._stock_before.items():
            now = self.stocks[code].get(spot, 0)
            item, at = self.numbers[code], self.spots[spot]
            if now == before:
                continue
            if not before:
                changes["insert"].append({"item": item, "spot": at, "quantity": now})
            elif now:
                changes["update"].append({"quantity": now, "item": item, "spot": at})
            else:
                changes["delete"].append({"item": item, "spot": at})
        self._stock_before.clear()
        put_rows(self.database, "stock", changes["insert"])
        UPDATE_STOCK.each(self.database, changes["update"])
        DELETE_STOCK.each(self.database, changes["delete"])

    def note(self, key: str, value: str) -> None:
        """Note something of the store as a whole."""
        if not NOTE.rows(self.database, noted=key, said=value):
            put_rows(self.database, "meta", [{"key": key, "value": value}])

    def finish(self) -> None:
        """Write everything, and note the head of the journal."""
        self.flush()
        if self.head[0]:
            self.note("head", f"{self.head[0]} {self.head[1]}")
        if len(self.items) > REMEMBER_AT_MOST:
            self.forget()
