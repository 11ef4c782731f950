"""What the facts say, for one transaction: on a subject, of a topic, and which plan is in force."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from lotkin.store.reading.fact_order import in_time, newest
from lotkin.store.reading.journal_reader import JournalReader
from lotkin.store.reading.rule_statements import FACTS, LAST_FACT, TOPIC
from lotkin.store.tables.records import fact_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.genealogy.items import Fact
    from lotkin.core.plan import ShopPlan
    from lotkin.store.connection.database import Database

__all__ = ["FactReader"]


class FactReader(JournalReader):
    """Gives the living facts, those that this transaction has added and not written included."""

    def __init__(
        self, database: Database, plans: dict[tuple[int, str], ShopPlan] | None = None
    ) -> None:
        """Look at a transaction; `plans` are those other views have read, by event and hash."""
        super().__init__(database, plans)
        self.fact_lists: dict[tuple[str, str], list[Fact]] = {}
        self.new_facts: dict[tuple[str, str], list[Fact]] = defaultdict(list)
        self.topics: dict[str, list[Fact]] = {}

    def facts(self, topic: str, subject: str) -> Sequence[Fact]:
        """List the living facts on a subject in order of (at, event, ordinal)."""
        key = (topic, subject)
        if key not in self.fact_lists:
            rows = FACTS.rows(self.database, topic=topic, subject=subject)
            found = [fact_of(row) for row in rows] + self.new_facts.get(key, [])
            self.fact_lists[key] = sorted(found, key=in_time)
        return self.fact_lists[key]

    def topic(self, topic: str) -> Sequence[Fact]:
        """List the living facts of a topic, whatever they are about, in no special order."""
        known = self.topics.get(topic)
        if known is None:
            known = [fact_of(row) for row in TOPIC.rows(self.database, topic=topic)]
            for (of_topic, _), facts in self.new_facts.items():
                known += facts if of_topic == topic else []
            self.topics[topic] = known
        return known

    def last_fact(self, topic: str, subject: str, at: int) -> Fact | None:
        """Give the latest living fact on a subject at or before a moment."""
        if (topic, subject) in self.fact_lists:
            known = [fact for fact in self.fact_lists[topic, subject] if fact.at <= at]
            return known[-1] if known else None
        rows = LAST_FACT.rows(self.database, topic=topic, subject=subject, moment=at)
        found = [fact_of(row) for row in rows]
        found += [fact for fact in self.new_facts.get((topic, subject), []) if fact.at <= at]
        return max(found, key=in_time, default=None)

    def hold(self, code: str) -> str | None:
        """Give the reason why an item is held; None if it is free."""
        facts = self.facts("hold", code)
        reason = str(max(facts, key=newest).value["reason"]) if facts else ""
        return reason or None

    def plan_number(self, as_of: int | None = None) -> int:
        """Give the number of the event that loaded the plan in force; 0 for none."""
        numbers = (fact.event for fact in self.facts("plan", "plan"))
        return max((n for n in numbers if as_of is None or n <= as_of), default=0)
