"""The store as the uses see it: one state to read from, one transaction to record in."""

from __future__ import annotations

import weakref
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING
from uuid import uuid4

from sqlalchemy import delete

from lotkin.core.errors import Circle
from lotkin.store.circles import find_circle
from lotkin.store.comparing import difference, set_aside
from lotkin.store.engine import reading, writing
from lotkin.store.numbering import NUMBERING
from lotkin.store.reader import Reader
from lotkin.store.rows import GRAPH_CHANGE
from lotkin.store.supersede import supersede
from lotkin.store.writer import Writer

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sqlalchemy import Engine

    from lotkin.core.effects import Effects
    from lotkin.core.plan import ShopPlan
    from lotkin.core.view import Entry
    from lotkin.store.access_notes import AccessNotes
    from lotkin.store.graph.graphs import Graphs
    from lotkin.store.notice_notes import NoticeNotes
    from lotkin.store.retaining import Retaining
    from lotkin.store.station_notes import StationNotes

__all__ = ["Rebuilder", "Recorder", "Store"]


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


class Rebuilder(Recorder):
    """Derives everything from the journal anew.

    Attributes:
        differs: What `difference` said; None while it was not asked.
    """

    differs: str | None = None

    def set_aside(self) -> None:
        """Keep what is derived for comparison, and begin with nothing."""
        set_aside(self.connection)
        self.connection.execute(delete(GRAPH_CHANGE))
        self.forget()
        self.spots.clear()
        self.spot_names.clear()
        self.start_numbering()

    def difference(self) -> str:
        """Say where what was set aside differs from what is there now; "" if nowhere."""
        self.flush()
        self.differs = difference(self.connection)
        return self.differs


class _OnlyComparedError(Exception):
    """Ends a transaction that was to compare and not to keep."""


class Store:
    """A store behind an engine."""

    def __init__(self, engine: Engine, graphs: Graphs | None = None) -> None:
        """Take an engine, and the copy of the graph that large questions may be asked of."""
        self.engine = engine
        self.graphs = graphs
        self.plans: dict[tuple[int, str], ShopPlan] = {}
        self._closing = weakref.finalize(self, engine.dispose)

    def close(self) -> None:
        """Let go of the database; done by itself when nothing needs the store any more."""
        self._closing()

    @contextmanager
    def reading(self) -> Iterator[Reader]:
        """Give a view of one state of the store."""
        with reading(self.engine) as connection:
            yield Reader(connection, self.plans, self.graphs)

    def copy_graph(self, *, only_if_due: bool = False) -> int:
        """Make the copy of the graph anew; gives the event that it is of, 0 if none was made."""
        if self.graphs is None:
            return 0
        with reading(self.engine) as connection:
            if only_if_due and not self.graphs.is_due(connection):
                return 0
            return self.graphs.renew(connection)

    @contextmanager
    def recording(self) -> Iterator[Recorder]:
        """Give a recorder; all of it is kept if the block ends well, else none."""
        with writing(self.engine) as connection:
            recorder = Recorder(connection, self.plans)
            yield recorder
            recorder.finish()

    @contextmanager
    def rebuilding(self, *, keep: bool) -> Iterator[Rebuilder]:
        """Give a rebuilder; what it derives is kept or undone at the end of the block."""
        with suppress(_OnlyComparedError), writing(self.engine) as connection:
            rebuilder = Rebuilder(connection, self.plans)
            yield rebuilder
            rebuilder.flush()
            if not keep:
                raise _OnlyComparedError
            if rebuilder.differs != "":
                rebuilder.note(NUMBERING, uuid4().hex)

    @contextmanager
    def station_notes(self, *, only_look: bool = False) -> Iterator[StationNotes]:
        """Give a transaction on what is remembered of the stations."""
        from lotkin.store.station_notes import StationNotes  # noqa: PLC0415 - only for stations

        with (reading if only_look else writing)(self.engine) as connection:
            yield StationNotes(connection)

    @contextmanager
    def access_notes(self, *, only_look: bool = False) -> Iterator[AccessNotes]:
        """Give a transaction on who may come in to the service."""
        from lotkin.store.access_notes import AccessNotes  # noqa: PLC0415 - only for the service

        with (reading if only_look else writing)(self.engine) as connection:
            yield AccessNotes(connection)

    @contextmanager
    def notice_notes(self, *, only_look: bool = False) -> Iterator[NoticeNotes]:
        """Give a transaction on what other programs are told."""
        from lotkin.store.notice_notes import NoticeNotes  # noqa: PLC0415 - only for the service

        with (reading if only_look else writing)(self.engine) as connection:
            yield NoticeNotes(connection)

    @contextmanager
    def retaining(self, *, only_look: bool = False) -> Iterator[Retaining]:
        """Give a transaction on what need not be kept for ever."""
        from lotkin.store.retaining import Retaining  # noqa: PLC0415 - seldom needed

        with (reading if only_look else writing)(self.engine) as connection:
            yield Retaining(connection)
