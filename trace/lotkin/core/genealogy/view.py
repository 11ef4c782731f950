"""What the rules may ask of what is stored: a small protocol that the store fulfils."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence

    from lotkin.core.genealogy.items import Fact, Item, Link
    from lotkin.core.plan import ShopPlan
    from lotkin.core.values.canonical import Json
    from lotkin.core.values.places import Spot

__all__ = ["Breach", "Entry", "View"]


@dataclass(frozen=True, slots=True)
class Breach:
    """A rule that a reported event broke.

    Attributes:
        rule: Stable kebab-case name of the rule.
        record: Code that it is about.
        message: What was broken, in words.
    """

    rule: str
    record: str
    message: str


@dataclass(frozen=True, slots=True)
class Entry:
    """One journal row.

    Attributes:
        seq: Number in the journal, from 1 without gaps.
        id: UUID chosen by the sender.
        kind: Kind of event.
        at: Microseconds UTC when it happened.
        recorded_at: Microseconds UTC when it was recorded.
        station, by: Where and by whom; `station` may be "".
        reported: Whether it was reported after the fact.
        data: The event as completed: every default spelled out.
        sent: SHA-256 of the event as it was sent.
        breaches: Rules that it broke.
        plan: Number of the event that loaded the plan in force; 0 for none.
        previous, hash: The chain.
        text: `data` in its one spelling, where that was written already; "" else.
    """

    seq: int
    id: str
    kind: str
    at: int
    recorded_at: int
    station: str
    by: str
    reported: bool
    data: dict[str, Json]
    sent: str
    plan: int = 0
    breaches: tuple[Breach, ...] = field(default=())
    previous: str = ""
    hash: str = ""
    text: str = field(default="", repr=False, compare=False)


class View(Protocol):
    """Reading what is stored, as the rules need it; all answers are of the present."""

    def item(self, code: str) -> Item | None:
        """Give the item of exactly this code."""

    def look_up(self, codes: Iterable[str]) -> None:
        """Fetch items that will be asked about, all at once; no answer changes by it."""

    def label(self, text: str) -> str | None:
        """Give the code of the item that a serial or label leads to now."""

    def carrying(self, supplier_lot: str) -> Sequence[Item]:
        """List the items that carry this number of a supplier, in order of code."""

    def made_by(self, seq: int) -> Sequence[str]:
        """List the codes of the items that an event made, as it reads now."""

    def near(self, text: str) -> Sequence[str]:
        """List recorded codes that resemble `text`, for a hint."""

    def parents(self, code: str) -> Sequence[Link]:
        """List the links into an item, in order of (event, group, parent)."""

    def children(self, code: str) -> Sequence[Link]:
        """List the links out of an item, in order of (event, group, child)."""

    def is_used(self, code: str) -> bool:
        """Tell whether anything is made from the item."""

    def stock(self, code: str) -> Mapping[Spot, int]:
        """Map each spot to the millionths of the item there, ends included, zeros left out."""

    def within(self, container: str) -> Sequence[tuple[str, Spot, int]]:
        """List (item, spot, millionths) of what lies within a carton or outside batch."""

    def filling(self, container: str) -> Sequence[int]:
        """List the numbers of the events that put anything into a carton or outside batch."""

    def places_shipped_to(self) -> Collection[str]:
        """Give the places that any shipment took something to."""

    def facts(self, topic: str, subject: str) -> Sequence[Fact]:
        """List the living facts on a subject in order of (at, event, ordinal)."""

    def topic(self, topic: str) -> Sequence[Fact]:
        """List the living facts of a topic, whatever they are about, in no special order."""

    def last_fact(self, topic: str, subject: str, at: int) -> Fact | None:
        """Give the latest living fact on a subject at or before a moment."""

    def hold(self, code: str) -> str | None:
        """Give the reason why an item is held; None if it is free."""

    def plan(self, seq: int) -> ShopPlan | None:
        """Give the plan that was loaded by event `seq`."""

    def entry(self, seq: int) -> Entry:
        """Give a journal row by its number."""

    def entries_of(
        self, kinds: Sequence[str] = (), *, start: int | None = None, end: int | None = None
    ) -> Sequence[Entry]:
        """List the rows of some kinds of events within a time; no kinds: all that broke a rule."""

    def entry_by_id(self, event_id: str) -> Entry | None:
        """Give a journal row by the sender's id."""
