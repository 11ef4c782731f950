"""Events out of JSON Lines, and what they are recorded in when it is only tried."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from lotkin.core.errors import LotkinError, Unavailable
from lotkin.core.events.reading import parse_line
from lotkin_cli.inputs import read_lines, source_name

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from lotkin.core.events import Event
    from lotkin.uses.ports import CanRecord, Recording

__all__ = ["EventSource", "Rehearsal"]


class EventSource:
    """Events of a file or of standard input, in their order.

    Attributes:
        line: Number of the line that the event at hand is on.
    """

    def __init__(self, file: str) -> None:
        self._file = file
        self.line = 0

    def __iter__(self) -> Iterator[tuple[int, Event]]:
        """Yield (line number, event) as the lines come in.

        Raises:
            BadFile, BadEvent: The line is not an event.
        """
        for number, text in read_lines(self._file):
            self.line = number
            yield number, parse_line(text, self.place)

    @property
    def place(self) -> str:
        """The line at hand, as messages call it."""
        return f"{source_name(self._file)} line {self.line}"

    def told_one_by_one(self, events: Iterable[tuple[int, Event]]) -> Iterator[Event]:
        """Yield events that were read before, and keep count of the line."""
        for number, event in events:
            self.line = number
            yield event

    @contextmanager
    def naming_the_line(self) -> Iterator[None]:
        """Let an error that an event causes name the line that the event is on."""
        try:
            yield
        except Unavailable:
            raise
        except LotkinError as error:
            if not error.message.startswith(self.place):
                error.message = f"{self.place}: {error.message}"
            raise


class _OnlyTriedError(Exception):
    """Ends a transaction that nothing is to be kept of."""


class Rehearsal:
    """A store in which events can be tried: every rule is checked and nothing is kept."""

    def __init__(self, store: CanRecord) -> None:
        self._store = store

    @contextmanager
    def recording(self) -> Iterator[Recording]:
        """Give a transaction that is undone at its end."""
        try:
            with self._store.recording() as recording:
                yield recording
                raise _OnlyTriedError
        except _OnlyTriedError:
            return
