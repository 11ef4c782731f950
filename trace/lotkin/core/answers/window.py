"""Narrowing to a time: only what may have been done in it, whole runs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple, Protocol

from lotkin.core.values.instants import parse_instant, to_us
from lotkin.core.values.kinds import Family

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from lotkin.core.genealogy.items import Item, Link
    from lotkin.core.genealogy.view import View
    from lotkin.core.values.canonical import Json

__all__ = ["Deed", "Now", "Past", "Span", "Window", "amended_at", "deeds_of", "falls_into"]

LASTING = frozenset({"make", "build", "take-back", "import", "adopt"})
"""Events that end something which took its time; all others happen in a moment."""


class Span(NamedTuple):
    """From when to when something lasted, in microseconds UTC; None where that is not known.

    What has no known beginning may have begun at any time before; what has no known end may last.
    """

    began: int | None
    ended: int | None


class Deed(NamedTuple):
    """What was done with an item once.

    Attributes:
        code: Where it led: a run, or what was made; the item itself if that is a run.
        span: How long it lasted.
    """

    code: str
    span: Span


@dataclass(frozen=True, slots=True)
class Window:
    """A span of time in microseconds UTC, both ends included; None leaves an end open."""

    start: int | None = None
    end: int | None = None

    @property
    def is_backwards(self) -> bool:
        """Tell whether it ends before it begins."""
        return self.start is not None and self.end is not None and self.end < self.start

    def overlaps(self, span: Span) -> bool:
        """Tell whether something may have been going on within it."""
        if self.start is not None and span.ended is not None and span.ended < self.start:
            return False
        return not (self.end is not None and span.began is not None and span.began > self.end)


class Past(Protocol):
    """What is on record of what was done, now or as of a journal position."""

    def children(self, code: str) -> Sequence[tuple[Link, Item]]:
        """List (link, child) below an item."""

    def at(self, event: int) -> int:
        """Tell when an event took place, as it reads, in microseconds UTC."""

    def kind(self, event: int) -> str:
        """Give the kind of an event."""

    def run_of(self, child: str, event: int) -> Item | None:
        """Give the run by which an event brought an item forth; None for none."""

    def filling(self, batch: str) -> Sequence[int]:
        """List the events by which something was sent with a batch."""

    def is_out(self, batch: str) -> bool:
        """Tell whether anything that was sent with a batch is still out."""


def deeds_of(past: Past, subject: Item, window: Window) -> list[Deed]:
    """List all that was done with an item, by where it led; a run is itself what was done.

    Spans are exact enough to compare with the window, and to say which is the nearest to it.
    """
    below = past.children(subject.code)
    if subject.family is Family.RUN:
        span = _span_of_run(past, subject, window)
        return [Deed(subject.code, span), *(Deed(child.code, span) for _, child in below)]
    return [Deed(child.code, _span(past, link, child, window)) for link, child in below]


def _span(past: Past, link: Link, child: Item, window: Window) -> Span:
    """Tell how long it took to do what a link out of something that is no run says."""
    if child.family is Family.RUN:
        return _span_of_run(past, child, window)
    is_own = child.event == link.event
    if is_own and child.started_at is not None:
        return Span(child.started_at, child.made_at)
    if child.family is Family.MATERIAL and past.kind(link.event) in LASTING:
        run = past.run_of(child.code, link.event)
        if run is not None:
            return _span_of_run(past, run, window)
        if is_own:
            return Span(None, child.made_at)
    at = _at(past, link, child)
    return Span(at, at)


def _at(past: Past, link: Link, child: Item) -> int:
    """Tell when a link came about: of what an event made itself, when that was made."""
    is_own = child.event == link.event
    return child.made_at if is_own and child.made_at is not None else past.at(link.event)


def _span_of_run(past: Past, run: Item, window: Window) -> Span:
    """Tell how long a run lasted, from its first deed to its last.

    An outside batch lasts from its first sending to its last return, and while anything is out.
    An inspection is recorded as one moment.
    """
    if run.kind == "inspection" and run.started_at is None:
        return Span(run.made_at, run.made_at)
    if run.kind != "outside-batch" or past.kind(run.event) != "send":
        return Span(run.started_at, run.made_at)
    began = run.started_at
    # a sending that was told late may be earlier; looking for it is slow
    if began is not None and window.end is not None and window.end < began:
        began = min([began, *map(past.at, past.filling(run.code))])
    back = [_at(past, link, child) for link, child in past.children(run.code)]
    is_open = not back or past.is_out(run.code)
    return Span(began, None if is_open else max(back))


class Now:
    """What is on record now."""

    def __init__(self, view: View) -> None:
        self._view = view

    def children(self, code: str) -> list[tuple[Link, Item]]:
        """List (link, child) below an item."""
        return [
            (link, child)
            for link in self._view.children(code)
            if (child := self._view.item(link.child)) is not None
        ]

    def at(self, event: int) -> int:
        """Tell when an event took place, as it reads now."""
        amended = self._view.facts("amended", str(event))
        latest = max(amended, key=lambda fact: fact.event, default=None)
        return self._view.entry(event).at if latest is None else amended_at(latest.value)

    def kind(self, event: int) -> str:
        """Give the kind of an event."""
        return self._view.entry(event).kind

    def run_of(self, child: str, event: int) -> Item | None:
        """Give the run by which an event brought an item forth; None for none."""
        for link in self._view.parents(child):
            parent = self._view.item(link.parent) if link.event == event else None
            if parent is not None and parent.family is Family.RUN:
                return parent
        return None

    def filling(self, batch: str) -> Sequence[int]:
        """List the events by which something was sent with a batch."""
        return self._view.filling(batch)

    def is_out(self, batch: str) -> bool:
        """Tell whether anything that was sent with a batch is still out."""
        return any(q > 0 and not spot.is_end for _, spot, q in self._view.within(batch))


def falls_into(view: View, subject: Item, link: Link, window: Window) -> bool:
    """Tell whether what a link out of an item says may have been done within a window."""
    child, now = view.item(link.child), Now(view)
    if subject.family is Family.RUN:
        return window.overlaps(_span_of_run(now, subject, window))
    return child is None or window.overlaps(_span(now, link, child, window))


def amended_at(value: Mapping[str, Json]) -> int:
    """Give the time of an event as an amendment says, in microseconds UTC."""
    reading = value["reading"]
    assert isinstance(reading, dict)
    return to_us(parse_instant(str(reading["at"])))
