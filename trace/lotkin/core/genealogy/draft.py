"""A working copy: what events bring forth, seen together with what is stored already."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.errors import ChildBeforeParent, CodeTaken, UnknownCode
from lotkin.core.genealogy.items import Fact, Item, Link, Movement
from lotkin.core.values.instants import show_instant
from lotkin.core.values.kinds import Mixing
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.genealogy.view import View
    from lotkin.core.values.canonical import Json
    from lotkin.core.values.places import Spot

__all__ = ["Draft"]


class Draft:
    """Collects items, links, movements and facts of one or several events.

    Reading sees what is stored, less everything from the `hidden` events (those being derived
    anew), plus what this draft holds already.

    Attributes:
        items: New items by code.
        links, movements, facts: New rows in the order they were made.
        consumed: (lot, spot, millionths) taken from bench positions; stock changes of these are
            implied by the links through the bench setup and are not stored as movements.
        as_made: Quantity and links of mixtures before anything was identified out of them.
    """

    def __init__(self, view: View, hidden: frozenset[int] = frozenset()) -> None:
        self.view = view
        self.hidden = hidden
        self.items: dict[str, Item] = {}
        self.links: list[Link] = []
        self.movements: list[Movement] = []
        self.facts_made: list[Fact] = []
        self.consumed: list[tuple[str, Spot, int]] = []
        self.as_made: dict[str, tuple[int, tuple[Link, ...]]] = {}
        self.seq = 0
        self.at = 0
        self.plan = 0
        self._groups: dict[str, int] = {}
        self._ordinals: dict[int, int] = {}

    def begin(self, seq: int, at: int, plan: int) -> None:
        """Say which event the following rows belong to."""
        self.seq, self.at, self.plan = seq, at, plan
        self._groups = {}

    # --- reading

    def item(self, code: str) -> Item:
        """Give an item by its exact code.

        Raises:
            UnknownCode: There is none.
        """
        made = self.items.get(code)
        if made is not None:
            return made
        item = self.view.item(code)
        if item is None or item.event in self.hidden:
            raise UnknownCode(code)
        return item

    def has(self, code: str) -> bool:
        """Tell whether an item of this code exists."""
        if code in self.items:
            return True
        item = self.view.item(code)
        return item is not None and item.event not in self.hidden

    def parents(self, code: str) -> list[Link]:
        """List the links into an item."""
        stored = [link for link in self.view.parents(code) if link.event not in self.hidden]
        return stored + [link for link in self.links if link.child == code]

    def children(self, code: str) -> list[Link]:
        """List the links out of an item."""
        stored = [link for link in self.view.children(code) if link.event not in self.hidden]
        return stored + [link for link in self.links if link.parent == code]

    def facts(self, topic: str, subject: str) -> list[Fact]:
        """List the living facts on a subject in order of (at, event, ordinal)."""
        stored = self.view.facts(topic, subject)
        found = [fact for fact in stored if fact.event not in self.hidden]
        found += [f for f in self.facts_made if f.topic == topic and f.subject == subject]
        return sorted(found, key=lambda fact: (fact.at, fact.event, fact.ordinal))

    def last_fact(self, topic: str, subject: str, at: int) -> Fact | None:
        """Give the latest living fact on a subject at or before a moment."""
        if not self.hidden and not self.facts_made:
            return self.view.last_fact(topic, subject, at)
        found = [fact for fact in self.facts(topic, subject) if fact.at <= at]
        return found[-1] if found else None

    # --- writing

    def make(self, item: Item, spot: Spot | None, *, quantity: int | None = None) -> Item:
        """Add a new item and, where it has a quantity, put it at a spot.

        Raises:
            CodeTaken: The code is recorded already.
        """
        if self.has(item.code):
            raise CodeTaken(item.code)
        self.items[item.code] = item
        amount = item.quantity if quantity is None else quantity
        if spot is not None and amount:
            self.movements.append(Movement(item.code, amount, None, spot, self.seq))
        return item

    def group(self, child: str) -> int:
        """Give the next free group number of a child within this event."""
        number = self._groups.get(child, 0) + 1
        self._groups[child] = number
        return number

    def link(  # noqa: PLR0913 - a link has these parts
        self,
        parent: str,
        child: str,
        mixing: Mixing = Mixing.EACH,
        *,
        group: int = 0,
        quantity: int | None = None,
        per: int = MICRO,
        position: str = "",
    ) -> None:
        """Link a parent to a child; group 0 asks for a group of its own.

        Raises:
            UnknownCode: One of them is not recorded.
            ChildBeforeParent: The child is older than the parent.
        """
        parent_at = self.item(parent).made_at
        child_at = self.item(child).made_at
        if parent_at is not None and child_at is not None and child_at < parent_at:
            raise ChildBeforeParent(child, parent, show_instant(child_at), show_instant(parent_at))
        number = group or self.group(child)
        self.links.append(Link(parent, child, number, mixing, quantity, per, position, self.seq))

    def expose(self, parent: str, child: str) -> None:
        """Link an inspection or a gauge to what it was used on, which was there before it.

        Raises:
            UnknownCode: One of them is not recorded.
            ChildBeforeParent: The parent is younger than the event.
        """
        parent_at = self.item(parent).made_at
        code = self.item(child).code
        if parent_at is not None and self.at < parent_at:
            raise ChildBeforeParent(code, parent, show_instant(self.at), show_instant(parent_at))
        self.links.append(
            Link(parent, code, self.group(code), Mixing.EACH, None, MICRO, "", self.seq)
        )

    def move(self, code: str, quantity: int, origin: Spot, destination: Spot) -> None:
        """Move pieces of an item from one spot to another; nothing to do for zero."""
        if quantity:
            self.movements.append(Movement(code, quantity, origin, destination, self.seq))

    def consume(self, lot: str, spot: Spot, quantity: int) -> None:
        """Take pieces from a bench position for a unit (implied by the setup's links)."""
        self.consumed.append((lot, spot, quantity))

    def fact(self, topic: str, subject: str, **said: Json) -> None:
        """Establish a fact on a subject, at the time of the event."""
        ordinal = self._ordinals.get(self.seq, 0)
        self._ordinals[self.seq] = ordinal + 1
        self.facts_made.append(Fact(topic, subject, self.at, dict(said), self.seq, ordinal))


def grouped(links: Sequence[Link]) -> list[list[Link]]:
    """Gather links into a child by group, in order."""
    groups: dict[tuple[int, int], list[Link]] = {}
    for link in links:
        groups.setdefault((link.event, link.group), []).append(link)
    return [groups[key] for key in sorted(groups)]
