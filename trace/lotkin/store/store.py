"""The store as the uses see it: one state to read from, one transaction to record in."""

from __future__ import annotations

import weakref
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING

from lotkin.store.connection.statements import Ask
from lotkin.store.tables.journal_head import NUMBERING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from contextlib import AbstractContextManager

    from sqlalchemy import Connection, Engine

    from lotkin.core.plan import ShopPlan
    from lotkin.store.beside.credentials import AccessNotes
    from lotkin.store.beside.letter_queue import NoticeNotes
    from lotkin.store.beside.retaining import Retaining
    from lotkin.store.beside.scanning import Scanning
    from lotkin.store.connection.source import Source
    from lotkin.store.graph.snapshot import Graphs
    from lotkin.store.reading.answer_reader import Reader
    from lotkin.store.record.recorder import Rebuilder, Recorder

__all__ = ["Store"]

NUMBER_OF = Ask("SELECT id FROM item WHERE code = :code")


class _OnlyComparedError(Exception):
    """Ends a transaction that was to compare and not to keep."""


class Store:
    """A store.

    Attributes:
        source: Where its transactions come from.
        graphs: The copy of the graph that large questions may be asked of; None for none.
    """

    def __init__(self, source: Source, graphs: Graphs | None = None) -> None:
        self.source = source
        self.graphs = graphs
        self.plans: dict[tuple[int, str], ShopPlan] = {}
        self._closing = weakref.finalize(self, source.close)

    @property
    def engine(self) -> Engine:
        """SQLAlchemy's way to the store."""
        return self.source.engine

    def close(self) -> None:
        """Let go of the database; done by itself when nothing needs the store any more."""
        self._closing()

    @contextmanager
    def reading(self) -> Iterator[Reader]:
        """Give a view of one state of the store."""
        from lotkin.store.reading.answer_reader import Reader  # noqa: PLC0415 - numbers need none

        with self.source.reading() as database:
            yield Reader(database, self.plans, self.graphs)

    def numbers_below(self, code: str) -> list[Sequence[int]] | None:
        """Find the numbers of an item and of all that it went into, from the copy of the graph.

        Nothing else is looked at: a million items take milliseconds.

        Returns:
            Numbers in stretches, each once; None if there is no copy to believe.

        Raises:
            UnknownCode: There is no such item.
            BadArrayFileError: The copy is damaged.
        """
        with self.source.reading() as database:
            number = NUMBER_OF.first(database, code=code)
            if number is None:
                from lotkin.core.errors import UnknownCode  # noqa: PLC0415 - only where one is raised

                raise UnknownCode(code)
            return self.graphs.reached_below(database, [number]) if self.graphs else None

    def copy_graph(self, *, only_if_due: bool = False) -> int:
        """Make the copy of the graph anew; gives the event that it is of, 0 if none was made."""
        if self.graphs is None:
            return 0
        with self.source.reading() as database:
            if only_if_due and not self.graphs.is_due(database):
                return 0
            return self.graphs.renew(database)

    @contextmanager
    def recording(self) -> Iterator[Recorder]:
        """Give a recorder; all of it is kept if the block ends well, else none."""
        from lotkin.store.record.recorder import Recorder  # noqa: PLC0415 - a question needs none

        with self.source.writing() as database:
            recorder = Recorder(database, self.plans)
            yield recorder
            recorder.finish()

    @contextmanager
    def rebuilding(self, *, keep: bool) -> Iterator[Rebuilder]:
        """Give a rebuilder; what it derives is kept or undone at the end of the block."""
        from lotkin.store.record.recorder import Rebuilder  # noqa: PLC0415 - a question needs none

        with suppress(_OnlyComparedError), self.source.writing() as database:
            rebuilder = Rebuilder(database, self.plans)
            yield rebuilder
            rebuilder.flush()
            if not keep:
                raise _OnlyComparedError
            if rebuilder.differs != "":
                from uuid import uuid4  # noqa: PLC0415 - a question needs none

                rebuilder.note(NUMBERING, uuid4().hex)

    @contextmanager
    def scanning(self, *, only_look: bool = False) -> Iterator[Scanning]:
        """Give a transaction for a scan: what is recorded and what stations remember, as one."""
        from lotkin.store.beside.scanning import Scanning  # noqa: PLC0415 - only for stations

        source = self.source
        with source.reading() if only_look else source.writing() as database:
            yield Scanning(database, self.plans, self.graphs)

    @contextmanager
    def access_notes(self, *, only_look: bool = False) -> Iterator[AccessNotes]:
        """Give a transaction on who may come in to the service."""
        from lotkin.store.beside.credentials import AccessNotes  # noqa: PLC0415 - only for the service

        with self._notes(only_look=only_look) as connection:
            yield AccessNotes(connection)

    @contextmanager
    def notice_notes(self, *, only_look: bool = False) -> Iterator[NoticeNotes]:
        """Give a transaction on what other programs are told."""
        from lotkin.store.beside.letter_queue import NoticeNotes  # noqa: PLC0415 - only for the service

        with self._notes(only_look=only_look) as connection:
            yield NoticeNotes(connection)

    @contextmanager
    def retaining(self, *, only_look: bool = False) -> Iterator[Retaining]:
        """Give a transaction on what need not be kept for ever."""
        from lotkin.store.beside.retaining import Retaining  # noqa: PLC0415 - seldom needed

        with self._notes(only_look=only_look) as connection:
            yield Retaining(connection)

    def _notes(self, *, only_look: bool) -> AbstractContextManager[Connection]:
        """Give a transaction on what is kept beside the record, in terms of SQLAlchemy."""
        from lotkin.store.connection.engine import reading, writing  # noqa: PLC0415 - slow to load

        return (reading if only_look else writing)(self.engine)
