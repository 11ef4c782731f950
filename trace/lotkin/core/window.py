"""Narrowing to a time: only runs that overlap it, whole."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.kinds import Family

if TYPE_CHECKING:
    from lotkin.core.items import Item, Link
    from lotkin.core.view import View

__all__ = ["Window", "falls_into"]


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
    if subject.family is Family.RUN:
        return window.overlaps(subject.started_at, subject.made_at)
    return window.overlaps(*_span(view, link))


def _span(view: View, link: Link) -> tuple[int | None, int | None]:
    """Tell when a link came about: the span of a run, else the time of the event."""
    child = view.item(link.child)
    if child is not None and (child.family is Family.RUN or child.event == link.event):
        return child.started_at, child.made_at
    at = view.entry(link.event).at
    return at, at
