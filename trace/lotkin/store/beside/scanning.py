"""One transaction for one scan: reading, recording, and what stations remember."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from lotkin.store.beside.station_memory import StationMemory
from lotkin.store.connection.statements import Change
from lotkin.store.reading.answer_reader import Reader
from lotkin.store.record.recorder import Recorder

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["Scanning"]

BEGIN = Change("SAVEPOINT recording")
UNDO = Change("ROLLBACK TO SAVEPOINT recording")
KEEP = Change("RELEASE SAVEPOINT recording")


class Scanning(Reader):
    """A view that remembers stations, and in which events can be recorded."""

    @property
    def stations(self) -> StationMemory:
        """What is remembered of the stations."""
        return StationMemory(self.database)

    @contextmanager
    def recording(self) -> Iterator[Recorder]:
        """Give a recorder; what it takes is undone alone if its block ends badly."""
        BEGIN.rows(self.database)
        try:
            recorder = Recorder(self.database, self._plans)
            yield recorder
            recorder.finish()
        except Exception:
            UNDO.rows(self.database)
            raise
        KEEP.rows(self.database)
        self.forget()
