"""The dialogue of a station over a store: each scan is answered, each confirmed work recorded."""

from __future__ import annotations

import json
import os
import uuid
from contextlib import contextmanager
from dataclasses import asdict, replace
from typing import TYPE_CHECKING

from lotkin.core.dialogue import Desk, Reply, Session, SessionState
from lotkin.core.errors import BadFile, LotkinError, NoPlan
from lotkin.core.reading import parse_event
from lotkin.uses.record import record

if TYPE_CHECKING:
    from collections.abc import Iterator
    from contextlib import AbstractContextManager
    from pathlib import Path
    from typing import Protocol

    from lotkin.uses.ports import CanRead, CanRecord, Clock

    class CanScan(CanRead, CanRecord, Protocol):
        """A store that a station works with."""


__all__ = ["Station"]


class Station:
    """A station with its session, which is kept in a file beside the store if one is given."""

    def __init__(
        self, store: CanScan, place: str, clock: Clock, memory: Path | None = None
    ) -> None:
        self.store, self.place, self.clock, self.memory = store, place, clock, memory
        self.session = Session(self._remember())

    def begin(self) -> Reply:
        """Take up where the session stopped; what was being recorded then is recorded now.

        Raises:
            NoPlan: No plan is loaded, so nothing is known of the works.
        """
        pending = self.session.state.pending
        if pending:
            self.session.state = replace(self.session.state, pending=())
            with self._desk() as desk:
                self.session.resume(desk)
            self.session.state = replace(self.session.state, pending=pending)
            return self._record()
        with self._desk() as desk:
            return self.session.resume(desk)

    def take(self, text: str) -> Reply:
        """Take a scan or a typed line."""
        with self._desk() as desk:
            reply = self.session.take(text, desk)
        self._write()
        return self._record() if self.session.state.pending else reply

    def _record(self) -> Reply:
        state = self.session.state
        events = [parse_event(event, "scan") for event in state.pending]
        try:
            done = record(self.store, events, self.clock)
        except LotkinError as error:
            with self._desk() as desk:
                reply = self.session.refused(error.message, error.hint, desk)
        else:
            breaches = tuple(breach.message for one in done for breach in one.breaches)
            reply = self.session.recorded(tuple(one.id for one in done), breaches)
        self._write()
        return reply

    def _desk(self) -> AbstractContextManager[Desk]:
        return desk_of(self.store, self.place, self.clock)

    def _remember(self) -> SessionState:
        if self.memory is None or not self.memory.exists():
            return SessionState(number=str(uuid.uuid4()))
        try:
            data = json.loads(self.memory.read_text(encoding="utf-8"))
            data["scans"] = tuple((text, at) for text, at in data["scans"])
            data["pending"] = tuple(data["pending"])
            data["last"] = tuple(data["last"])
            data["last_resources"] = tuple(data["last_resources"])
            return SessionState(**data)
        except (OSError, ValueError, TypeError, KeyError) as error:
            why = "it is no session of a station"
            raise BadFile(str(self.memory), why, hint="remove it to begin anew") from error

    def _write(self) -> None:
        """Write the state down, whole or not at all."""
        if self.memory is None:
            return
        fresh = self.memory.with_name(f"{self.memory.name}.new")
        with fresh.open("w", encoding="utf-8") as file:
            json.dump(asdict(self.session.state), file, ensure_ascii=False)
            file.flush()
            os.fsync(file.fileno())
        fresh.replace(self.memory)


@contextmanager
def desk_of(store: CanScan, place: str, clock: Clock) -> Iterator[Desk]:
    """Open a view for one scan.

    Raises:
        NoPlan: No plan is loaded.
    """
    with store.reading() as view:
        number = view.plan_number()
        plan = view.plan(number) if number else None
        if plan is None:
            raise NoPlan
        yield Desk(view, plan, place, clock())
