"""The dialogue of a station over a store: each scan is answered, each confirmed work recorded."""

from __future__ import annotations

import uuid
from contextlib import contextmanager
from dataclasses import replace
from typing import TYPE_CHECKING

from lotkin.core.access.rights import Right, Who, right_to_record
from lotkin.core.dialogue import Desk, Reply, Session, SessionState
from lotkin.core.errors import CodeTaken, LotkinError, NoPlan
from lotkin.core.events.reading import parse_event
from lotkin.uses.recording.record import Recorded, record

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator
    from contextlib import AbstractContextManager
    from typing import Protocol

    from lotkin.core.dialogue import Hand
    from lotkin.uses.ports import CanRead, CanRecord, Clock
    from lotkin.uses.stations.ports import Memory

    class CanScan(CanRead, CanRecord, Protocol):
        """A store that a station works with."""


__all__ = ["Station"]

TRIES = 20
"""So many stations can finish the same step of one traveller in the same moment."""


class Station:
    """A station with its session, which is written down after every scan if a memory is given.

    Attributes:
        rights: What whoever works here may record; None for all, as at a terminal that everybody
            who can reach the store may use.
    """

    def __init__(
        self, store: CanScan, place: str, clock: Clock, memory: Memory | None = None
    ) -> None:
        self.store, self.place, self.clock, self.memory = store, place, clock, memory
        self.rights: Collection[Right] | None = None
        known = memory.load() if memory is not None else None
        self.session = Session(known or SessionState(number=str(uuid.uuid4())))

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

    def take(
        self,
        text: str,
        *,
        at: int | None = None,
        scan: str = "",
        by_hand: bool = True,
        remark: str = "",
    ) -> Reply:
        """Take a scan or a typed line.

        Args:
            text: What was scanned.
            at: When, microseconds UTC, if it waited on the way: then it tells what has happened,
                and no rule turns it away.
            scan: Its id, if it has one; it stays in the state until the next one.
            by_hand: Somebody scans now; a file or a program cannot confirm too quickly.
            remark: What the record is to say of how it came; "" for nothing.
        """
        with self._desk(at) as plain:
            desk = replace(plain, by_hand=by_hand, remark=remark)
            self.session.state = replace(self.session.state, scan=scan)
            reply = self.session.take(text, desk)
        self._write()
        return self._record(at) if self.session.state.pending else reply

    def person(self, text: str) -> str:
        """Give the name of the person whose badge a text is; "" if it is none."""
        with self._desk() as desk:
            known = desk.plan.person(text.strip())
        return known.name if known is not None else ""

    def hand(self) -> Hand:
        """Tell who is here, what is in hand, and what comes next."""
        with self._desk() as desk:
            return self.session.hand(desk)

    def _record(self, at: int | None = None) -> Reply:
        kinds = [str(event["kind"]) for event in self.session.state.pending]
        reply = self._barred(kinds) or self._recorded(at)
        self._write()
        return reply

    def _recorded(self, at: int | None) -> Reply:
        try:
            done = self._try_to_record(at)
        except LotkinError as error:
            with self._desk(at) as desk:
                return self.session.refused(error.message, error.hint, desk)
        breaches = tuple(breach.message for one in done for breach in one.breaches)
        return self.session.recorded(tuple(one.id for one in done), breaches)

    def _try_to_record(self, at: int | None) -> list[Recorded]:
        """Record what is pending; a code that another station was quicker to take is chosen anew.

        Raises:
            LotkinError: It is refused.
        """
        for _ in range(TRIES):
            pending = self.session.state.pending
            try:
                events = [parse_event(event, "scan") for event in pending]
                return record(self.store, events, self.clock, sender=self._sender())
            except CodeTaken:
                with self._desk(at) as desk:
                    self.session.confirm_again(desk)
                if self.session.state.pending in ((), pending):
                    self.session.state = replace(self.session.state, pending=pending)
                    raise
                self._write()
        events = [parse_event(event, "scan") for event in self.session.state.pending]
        return record(self.store, events, self.clock, sender=self._sender())

    def _sender(self) -> Who | None:
        """Give who was let in here; None where a badge alone says who it is."""
        person = self.session.state.person
        return Who(person, person, frozenset(self.rights)) if self.rights is not None else None

    def _barred(self, kinds: Collection[str]) -> Reply | None:
        """Refuse what the person here may not record; taking back their own work is theirs."""
        if self.rights is None:
            return None
        wanted = {right_to_record(kind) for kind in kinds if kind != "void"}
        lacking = sorted(wanted - set(self.rights))
        if not lacking:
            return None
        with self._desk() as desk:
            why = f"{self.session.state.person} may not {lacking[0].value} here"
            return self.session.refused(why, "call somebody who may", desk)

    def _desk(self, at: int | None = None) -> AbstractContextManager[Desk]:
        return desk_of(self.store, self.place, self.clock, at)

    def _write(self) -> None:
        if self.memory is not None:
            self.memory.save(self.session.state)


@contextmanager
def desk_of(store: CanScan, place: str, clock: Clock, at: int | None = None) -> Iterator[Desk]:
    """Open a view for one scan.

    Raises:
        NoPlan: No plan is loaded.
    """
    with store.reading() as view:
        number = view.plan_number()
        plan = view.plan(number) if number else None
        if plan is None:
            raise NoPlan
        now = clock()
        late = at is not None
        yield Desk(view, plan, place, min(at, now) if at is not None else now, late)
