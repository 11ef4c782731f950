"""Narrowing to a time: only runs that overlap it, whole."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.instants import parse_instant, to_us
from lotkin.core.kinds import Family

if TYPE_CHECKING:
    from collections.abc import Mapping

    from lotkin.core.canonical import Json
    from lotkin.core.items import Item, Link
    from lotkin.core.view import View

__all__ = ["Window", "amended_at", "falls_into", "was_within"]


@dataclass(frozen=True, slots=True)
class Window:
    """A span of time in microseconds UTC, both ends included; None leaves an end open."""

    start: int | None = None
    end: int | None = None

    def overlaps(self, began: int | None, ended: int | None) -> bool:
        """Tell whether something that lasted from `began` to `ended` falls into it.

        What has no known time may have, and does.
        """
        first = began if began is not None else ended
        last = ended if ended is not None else began
        if self.start is not None and last is not None and last < self.start:
            return False
        return not (self.end is not None and first is not None and first > self.end)


def falls_into(view: View, subject: Item, link: Link, window: Window) -> bool:
    """Tell whether what was done with a subject by one of its links falls into a window."""
    amended = view.facts("amended", str(link.event))
    latest = max(amended, key=lambda fact: fact.event, default=None)
    at = view.entry(link.event).at if latest is None else amended_at(latest.value)
    return was_within(subject, link, view.item(link.child), at=at, window=window)


def amended_at(value: Mapping[str, Json]) -> int:
    """Give the time of an event as an amendment says, in microseconds UTC."""
    reading = value["reading"]
    assert isinstance(reading, dict)
    return to_us(parse_instant(str(reading["at"])))


def was_within(subject: Item, link: Link, child: Item | None, *, at: int, window: Window) -> bool:
    """Tell whether a link falls into a window: the span of a run, else the time of the event.

    Args:
        subject: Where the link comes from.
        link: What was done with it.
        child: Where the link leads to.
        at: Microseconds UTC of the event that the link is from.
        window: The time asked about.
    """
    if subject.family is Family.RUN:
        return window.overlaps(subject.started_at, subject.made_at)
    if child is not None and (child.family is Family.RUN or child.event == link.event):
        return window.overlaps(child.started_at, child.made_at)
    return window.overlaps(at, at)
