"""Narrowing a question to a time: only runs that overlap it, whole."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.kinds import Family

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.items import Item, Link
    from lotkin.uses.ports import Reading

__all__ = ["Window", "first_within"]


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


def first_within(
    view: Reading, subjects: Sequence[Item], window: Window | None
) -> list[str] | None:
    """List what was done with the subjects, or came out of them, within a window.

    Returns:
        Codes of direct children to go on from; None without a window.
    """
    if window is None:
        return None
    first: list[str] = []
    for subject in subjects:
        if subject.family is Family.RUN and not window.overlaps(
            subject.started_at, subject.made_at
        ):
            continue
        first += [
            link.child
            for link in view.children(subject.code)
            if subject.family is Family.RUN or window.overlaps(*_span(view, link))
        ]
    return sorted(set(first))


def _span(view: Reading, link: Link) -> tuple[int | None, int | None]:
    """Tell when a link came about: the span of a run, else the time of the event."""
    child = view.item(link.child)
    if child is not None and child.family is Family.RUN:
        return child.started_at, child.made_at
    if child is not None and child.event == link.event:
        return child.started_at, child.made_at
    at = view.entry(link.event).at
    return at, at
