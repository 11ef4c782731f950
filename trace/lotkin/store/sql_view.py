"""What is stored, as the rules ask for it: the core's `View` over SQL, for one transaction."""

from __future__ import annotations

import difflib
import json
from collections import defaultdict
from typing import TYPE_CHECKING, Any

from sqlalchemy import bindparam, func, select

from lotkin.core.canonical import GENESIS
from lotkin.core.errors import UnknownCode, UnknownEvent
from lotkin.core.items import Fact, Item, Link
from lotkin.core.places import Spot
from lotkin.core.plan import ShopPlan
from lotkin.store.quick import Ask
from lotkin.store.rows import (
    FACT,
    ITEM,
    ITEM_PAST,
    JOURNAL,
    LINK,
    META,
    SPOT,
    STOCK,
    entry_of,
    item_of,
    link_of,
    select_items,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sqlalchemy import Connection, Select

    from lotkin.core.view import Entry

__all__ = ["SqlView"]

LINK_PARTS = (LINK.c.event, LINK.c.grp, LINK.c.mixing, LINK.c.quantity, LINK.c.per, LINK.c.position)
SPOT_NAMES = (SPOT.c.id, SPOT.c.place, SPOT.c.within)
FACT_PARTS = (
    FACT.c.topic,
    FACT.c.subject,
    FACT.c.at,
    FACT.c.value,
    FACT.c.event,
    FACT.c.ordinal,
)
ON_SUBJECT = (FACT.c.topic == bindparam("topic"), FACT.c.subject == bindparam("subject"))

ITEM_BY_CODE = Ask(select_items().where(ITEM.c.code == bindparam("code")))
ITEM_BY_NUMBER = Ask(select_items().where(ITEM.c.id == bindparam("number")))
ITEMS_CARRYING = Ask(
    select_items().where(ITEM.c.supplier_lot == bindparam("lot"), ITEM.c.supplier_lot != "")
)
CODES_MADE_BY = Ask(select(ITEM.c.code).where(ITEM.c.event == bindparam("seq")))
LINKS_INTO = Ask(
    select(LINK.c.parent, *LINK_PARTS)
    .where(LINK.c.child == bindparam("number"))
    .order_by(LINK.c.event, LINK.c.grp, LINK.c.parent)
)
LINKS_OUT_OF = Ask(
    select(LINK.c.child, *LINK_PARTS)
    .where(LINK.c.parent == bindparam("number"))
    .order_by(LINK.c.event, LINK.c.grp, LINK.c.child)
)
ANY_CHILD = Ask(select(LINK.c.child).where(LINK.c.parent == bindparam("number")).limit(1))
ALL_SPOTS = Ask(select(*SPOT_NAMES))
STOCK_OF = Ask(
    select(*SPOT_NAMES, STOCK.c.quantity)
    .join_from(STOCK, SPOT, SPOT.c.id == STOCK.c.spot)
    .where(STOCK.c.item == bindparam("number"))
    .order_by(SPOT.c.id)
)
STOCK_WITHIN = Ask(
    select(ITEM.c.code, SPOT.c.place, SPOT.c.within, STOCK.c.quantity)
    .join_from(SPOT, STOCK, STOCK.c.spot == SPOT.c.id)
    .join(ITEM, ITEM.c.id == STOCK.c.item)
    .where(SPOT.c.within == bindparam("container"))
    .order_by(ITEM.c.code)
)
SEQ_OF_ID = Ask(select(JOURNAL.c.seq).where(JOURNAL.c.id == bindparam("event_id")))
HEAD_NOTED = Ask(select(META.c.value).where(META.c.key == "head"))
HIGHEST = Ask(select(func.max(ITEM.c.id)))
HIGHEST_PAST = Ask(select(func.max(ITEM_PAST.c.id)))
TOPIC = Ask(select(*FACT_PARTS).where(FACT.c.topic == bindparam("topic")))
FACTS = Ask(select(*FACT_PARTS).where(*ON_SUBJECT))
LAST_FACT = Ask(
    select(*FACT_PARTS)
    .where(*ON_SUBJECT, FACT.c.at <= bindparam("moment"))
    .order_by(FACT.c.at.desc(), FACT.c.event.desc(), FACT.c.ordinal.desc())
    .limit(1)
)


class SqlView:
    """Answers the rules' questions; keeps what it was asked, and what is about to be written.

    A question about something that was not asked before goes to the database; what this
    transaction has added since is laid over the answer, so nothing must be written to be seen.
    """

    def __init__(
        self, connection: Connection, plans: dict[tuple[int, str], ShopPlan] | None = None
    ) -> None:
        """Look at a connection; `plans` are those that other views have read, by event and hash."""
        self.connection = connection
        self.numbers: dict[str, int] = {}
        self.codes: dict[int, str] = {}
        self.items: dict[str, Item | None] = {}
        self.spots: dict[Spot, int] = {}
        self.spot_names: dict[int, Spot] = {}
        self.stocks: dict[str, dict[Spot, int]] = {}
        self.fact_lists: dict[tuple[str, str], list[Fact]] = {}
        self.parent_lists: dict[str, list[Link]] = {}
        self.child_lists: dict[str, list[Link]] = {}
        self.new_facts: dict[tuple[str, str], list[Fact]] = defaultdict(list)
        self.new_parents: dict[str, list[Link]] = defaultdict(list)
        self.new_children: dict[str, list[Link]] = defaultdict(list)
        self.new_entries: dict[int, Entry] = {}
        self.new_ids: dict[str, int] = {}
        self.topics: dict[str, list[Fact]] = {}
        self._plans = {} if plans is None else plans

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

    def _rows(self, statement: Select[Any], **values: Any) -> Sequence[Any]:
        return self.connection.execute(statement, values).all()

    # --- items

    def item(self, code: str) -> Item | None:
        """Give the item of exactly this code."""
        if code in self.items:
            return self.items[code]
        rows = ITEM_BY_CODE.rows(self.connection, code=code)
        found = self._keep(rows[0]) if rows else None
        self.items[code] = found
        return found

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
            code = self._keep(ITEM_BY_NUMBER.rows(self.connection, number=number)[0]).code
        return code

    def label(self, text: str) -> str | None:
        """Give the code of the item that a serial or label leads to now."""
        facts = self.facts("label", text)
        return str(max(facts, key=_newest).value["item"]) if facts else None

    def carrying(self, supplier_lot: str) -> Sequence[Item]:
        """List the items that carry this number of a supplier, in order of code."""
        rows = ITEMS_CARRYING.rows(self.connection, lot=supplier_lot)
        stored = {row[1]: self.items.get(row[1]) or self._keep(row) for row in rows}
        for item in self.items.values():
            if item is not None and item.supplier_lot == supplier_lot:
                stored[item.code] = item
        return [stored[code] for code in sorted(stored)] if supplier_lot else []

    def made_by(self, seq: int) -> Sequence[str]:
        """List the codes of the items that an event made, as it reads now."""
        stored = {row[0] for row in CODES_MADE_BY.rows(self.connection, seq=seq)}
        stored |= {i.code for i in self.items.values() if i is not None and i.event == seq}
        return sorted(stored)

    def near(self, text: str) -> Sequence[str]:
        """List recorded codes that resemble `text`: same beginning or, failing that, alike."""
        start = select(ITEM.c.code).where(
            ITEM.c.code.startswith(text[: max(3, len(text) - 2)], autoescape=True)
        )
        rows = self._rows(start.limit(200))
        return difflib.get_close_matches(text, [row[0] for row in rows], n=3, cutoff=0.5)

    # --- links

    def parents(self, code: str) -> Sequence[Link]:
        """List the links into an item, in order of (event, group, parent)."""
        if code not in self.parent_lists and self.item(code) is None:
            return []
        if code not in self.parent_lists:
            rows = LINKS_INTO.rows(self.connection, number=self.number(code))
            stored = [link_of(row[1:], self.code_of(row[0]), code) for row in rows]
            self.parent_lists[code] = stored + self.new_parents[code]
        return self.parent_lists[code]

    def children(self, code: str) -> Sequence[Link]:
        """List the links out of an item, in order of (event, group, child)."""
        if code not in self.child_lists and self.item(code) is None:
            return []
        if code not in self.child_lists:
            rows = LINKS_OUT_OF.rows(self.connection, number=self.number(code))
            stored = [link_of(row[1:], code, self.code_of(row[0])) for row in rows]
            self.child_lists[code] = stored + self.new_children[code]
        return self.child_lists[code]

    def is_used(self, code: str) -> bool:
        """Tell whether anything is made from the item."""
        if code in self.child_lists or self.item(code) is None:
            return bool(self.child_lists.get(code))
        if self.new_children.get(code):
            return True
        return bool(ANY_CHILD.rows(self.connection, number=self.number(code)))

    # --- stock

    def spot(self, number: int) -> Spot:
        """Give a spot by its number in the tables."""
        if number not in self.spot_names:
            for row in ALL_SPOTS.rows(self.connection):
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
                self.connection, number=self.number(code)
            ):
                spot = Spot(place, within)
                self._keep_spot(number, spot)
                known[spot] = quantity
            self.stocks[code] = known
        return known

    def within(self, container: str) -> Sequence[tuple[str, Spot, int]]:
        """List (item, spot, millionths) of what lies within a carton or outside batch."""
        self.flush()
        rows = STOCK_WITHIN.rows(self.connection, container=container)
        return [(row[0], Spot(row[1], row[2]), row[3]) for row in rows]

    # --- facts

    def facts(self, topic: str, subject: str) -> Sequence[Fact]:
        """List the living facts on a subject in order of (at, event, ordinal)."""
        key = (topic, subject)
        if key not in self.fact_lists:
            rows = FACTS.rows(self.connection, topic=topic, subject=subject)
            found = [_fact(row) for row in rows] + self.new_facts.get(key, [])
            self.fact_lists[key] = sorted(found, key=_in_time)
        return self.fact_lists[key]

    def topic(self, topic: str) -> Sequence[Fact]:
        """List the living facts of a topic, whatever they are about, in no special order."""
        known = self.topics.get(topic)
        if known is None:
            known = [_fact(row) for row in TOPIC.rows(self.connection, topic=topic)]
            for (of_topic, _), facts in self.new_facts.items():
                known += facts if of_topic == topic else []
            self.topics[topic] = known
        return known

    def last_fact(self, topic: str, subject: str, at: int) -> Fact | None:
        """Give the latest living fact on a subject at or before a moment."""
        if (topic, subject) in self.fact_lists:
            known = [fact for fact in self.fact_lists[topic, subject] if fact.at <= at]
            return known[-1] if known else None
        rows = LAST_FACT.rows(self.connection, topic=topic, subject=subject, moment=at)
        found = [_fact(row) for row in rows]
        found += [fact for fact in self.new_facts.get((topic, subject), []) if fact.at <= at]
        return max(found, key=_in_time, default=None)

    def hold(self, code: str) -> str | None:
        """Give the reason why an item is held; None if it is free."""
        facts = self.facts("hold", code)
        reason = str(max(facts, key=_newest).value["reason"]) if facts else ""
        return reason or None

    # --- journal and plan

    def entry(self, seq: int) -> Entry:
        """Give a journal row by its number."""
        if seq in self.new_entries:
            return self.new_entries[seq]
        rows = self._rows(select(JOURNAL).where(JOURNAL.c.seq == seq))
        if not rows:
            raise UnknownEvent(str(seq))
        return entry_of(rows[0])

    def entry_by_id(self, event_id: str) -> Entry | None:
        """Give a journal row by the sender's id."""
        if event_id in self.new_ids:
            return self.new_entries[self.new_ids[event_id]]
        rows = SEQ_OF_ID.rows(self.connection, event_id=event_id)
        return self.entry(rows[0][0]) if rows else None

    def plan(self, seq: int) -> ShopPlan | None:
        """Give the plan that was loaded by event `seq`."""
        if not seq:
            return None
        key = (seq, self._hash_of(seq))
        if key not in self._plans:
            data = self.entry(seq).data.get("plan")
            self._plans[key] = ShopPlan.from_data(data)  # type: ignore[arg-type]
        return self._plans[key]

    def _hash_of(self, seq: int) -> str:
        """Give the hash of an event: what it says never changes without it."""
        if seq in self.new_entries:
            return self.new_entries[seq].hash
        rows = self._rows(select(JOURNAL.c.hash).where(JOURNAL.c.seq == seq))
        return str(rows[0][0]) if rows else ""

    def head_noted(self) -> tuple[int, str]:
        """Give number and hash of the last journal row, as noted apart from the journal.

        (0, GENESIS) if nothing, or nothing that can be read, is noted.
        """
        rows = HEAD_NOTED.rows(self.connection)
        seq, _, digest = str(rows[0][0]).partition(" ") if rows else ("", "", "")
        return (int(seq), digest) if seq.isdecimal() and len(seq) < 19 else (0, GENESIS)

    def plan_number(self, as_of: int | None = None) -> int:
        """Give the number of the event that loaded the plan in force; 0 for none."""
        numbers = (fact.event for fact in self.facts("plan", "plan"))
        return max((n for n in numbers if as_of is None or n <= as_of), default=0)

    def highest_number(self) -> int:
        """Give the highest number that an item ever had."""
        living = HIGHEST.rows(self.connection)[0][0] or 0
        past = HIGHEST_PAST.rows(self.connection)[0][0] or 0
        return int(max(living, past))


def _fact(row: Sequence[Any]) -> Fact:
    """Make a fact of a row of `FACT_PARTS`."""
    topic, subject, at, value, event, ordinal = row
    return Fact(topic, subject, at, json.loads(value), event, ordinal)


def _newest(fact: Fact) -> tuple[int, int]:
    return fact.event, fact.ordinal


def _in_time(fact: Fact) -> tuple[int, int, int]:
    return fact.at, fact.event, fact.ordinal
