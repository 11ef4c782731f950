"""The store as the uses see it: one state to read from, one transaction to record in."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from lotkin.core.errors import Circle
from lotkin.store.circles import find_circle
from lotkin.store.engine import reading, writing
from lotkin.store.reader import Reader
from lotkin.store.supersede import supersede
from lotkin.store.writer import Writer

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sqlalchemy import Engine

    from lotkin.core.effects import Effects
    from lotkin.core.view import Entry

__all__ = ["Recorder", "Store"]


class Recorder(Writer, Reader):
    """Takes entries with their effects inside one transaction."""

    def take(self, entry: Entry, effects: Effects) -> None:
        """Add an entry and all that it brings forth.

        Raises:
            StillInUse: Something would vanish that other events rest on.
            Circle: The links would make an item its own ancestor.
        """
        self.add_entry(entry)
        self.apply(effects, entry.seq)

    def apply(self, effects: Effects, seq: int) -> None:
        """Add what an event brings forth; the journal has it already."""
        if not effects.again:
            self.add(effects.draft, seq)
            return
        links = supersede(self, effects.draft, effects.again, seq)
        self.flush()
        ends = [(self.number(link.parent), self.number(link.child)) for link in links]
        circle = find_circle(self.connection, ends)
        if circle:
            raise Circle([self.code_of(number) for number in circle])


class Store:
    """A store behind an engine."""

    def __init__(self, engine: Engine) -> None:
        self.engine = engine

    @contextmanager
    def reading(self) -> Iterator[Reader]:
        """Give a view of one state of the store."""
        with reading(self.engine) as connection:
            yield Reader(connection)

    @contextmanager
    def recording(self) -> Iterator[Recorder]:
        """Give a recorder; all of it is kept if the block ends well, else none."""
        with writing(self.engine) as connection:
            recorder = Recorder(connection)
            yield recorder
            recorder.finish()
