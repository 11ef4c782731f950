"""What the uses ask of a store, as small protocols; they never see the store itself."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from lotkin.core.view import View

if TYPE_CHECKING:
    from contextlib import AbstractContextManager

    from lotkin.core.effects import Effects
    from lotkin.core.view import Entry

__all__ = ["CanRecord", "Clock", "Recording"]


class Clock(Protocol):
    """Tells the time."""

    def __call__(self) -> int:
        """Give microseconds since 1970-01-01 UTC."""


class Recording(View, Protocol):
    """One transaction in which events are recorded."""

    head: tuple[int, str]

    def plan_number(self) -> int:
        """Give the number of the event that loaded the plan in force; 0 for none."""

    def take(self, entry: Entry, effects: Effects) -> None:
        """Add an entry and all that it brings forth."""


class CanRecord(Protocol):
    """A store that events can be recorded in."""

    def recording(self) -> AbstractContextManager[Recording]:
        """Give a transaction; all of it is kept if the block ends well, else none."""
