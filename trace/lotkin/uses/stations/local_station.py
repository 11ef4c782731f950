"""A station over a store: each scan is answered, and what it changes is written at once.

What a scan comes to is found out before the store is locked. Inside the lock it is found out anew
only if something was recorded, or taken at this station, in between. Then the events, the session
and the answer are written in one transaction; a scan that changes nothing writes nothing.
"""

from __future__ import annotations

import uuid
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.access.rights import Right, Who, right_to_record
from lotkin.core.dialogue import Desk, Hand, Reply, Session, SessionState, Tone
from lotkin.core.errors import LotkinError, NoPlan, StoreLocked
from lotkin.core.events.reading import parse_event
from lotkin.uses.recording.record import record
from lotkin.uses.stations.memory import read_state, write_state

if TYPE_CHECKING:
    from collections.abc import Callable, Collection

    from lotkin.core.dialogue import ToldScan
    from lotkin.uses.ports import Clock
    from lotkin.uses.stations.ports import CanScan, Scanning


__all__ = ["Answer", "ScanToTake", "Station"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ScanToTake:
    """A scan on its way through a station.

    Attributes:
        text: What was scanned.
        take: Lets a session take it; called again if the store moved before it was locked.
        waited_us: How long it waited on the way; None if it came at once.
        id: Its id; "" where scans have none.
        seen: Counter of what whoever scanned had before them; None if nobody knows.
        rights: What whoever scans may record; None for all, as at a terminal that everybody who can
            reach the store may use. Then a badge alone says who it is, so the session keeps that.
        told: Says what is kept of an answer, given the code of the person; None for nothing.
    """

    text: str
    take: Callable[[Session, Desk], Reply]
    waited_us: int | None = None
    id: str = ""
    seen: int | None = None
    rights: Collection[Right] | None = None
    told: Callable[[Reply, str], ToldScan] | None = None

    @property
    def is_late(self) -> bool:
        """Tell whether it waited on the way."""
        return self.waited_us is not None


class Answer(NamedTuple):
    """What a scan came to.

    Attributes:
        reply: What is said.
        hand: What is in hand afterwards.
        is_overtaken: It was not taken, because another scan was that whoever made it has not seen.
    """

    reply: Reply
    hand: Hand
    is_overtaken: bool = False


@dataclass(slots=True)
class _Walk:
    """What a scan comes to, before it is written.

    Attributes:
        session: As it is after the scan.
        counter: Of the session that was written last, before the scan.
        head: End of the journal that was looked at.
        desk: What it was taken with.
        reply: What is said.
        before: The state that the session took the scan in; None if it did not take it.
        is_late: Whether the scan waited on the way, so that it is kept whatever came of it.
        is_overtaken: Whether it was not taken because another one came first.
    """

    session: Session
    counter: int
    head: tuple[int, str]
    desk: Desk
    reply: Reply
    before: SessionState | None = None
    is_late: bool = False
    is_overtaken: bool = False

    def is_to_write(self) -> bool:
        """Tell whether there is anything to write."""
        if self.before is None:
            return False
        changed = self.session.state != self.before
        return self.is_late or changed or bool(self.session.to_record)

    def hand(self) -> Hand:
        """Show what is in hand, and whose PIN is wanted first."""
        claim = self.session.state.claim
        return replace(
            self.session.hand(self.desk),
            claim=claim,
            claim_name=self.desk.name_of(claim) if claim else "",
            counter=self.counter,
        )


class Station:
    """A station with its session.

    Args:
        store: Where to record, and to write the session down.
        place: Code of the place.
        clock: Tells the time.
        name: Under which the session is written down; "" for the code of the place.
    """

    def __init__(self, store: CanScan, place: str, clock: Clock, name: str = "") -> None:
        self.store, self.place, self.clock = store, place, clock
        self.name = name or place
        self.counter = 0
        self.session = _nothing_in_hand()

    def begin(self) -> Reply:
        """Take up where the session stopped.

        Raises:
            NoPlan: No plan is loaded, so nothing is known of the works.
        """
        with self.store.scanning(only_look=True) as view:
            found = self._found(view, None)
            self.session, self.counter = found.session, found.counter
            return Reply(Tone.ASK, "", found.hand().ask)

    def take(self, text: str, *, by_hand: bool = True) -> Reply:
        """Take what is scanned or typed at a terminal; somebody scans, or a file or a program.

        Raises:
            NoPlan: No plan is loaded.
        """

        def taken(session: Session, desk: Desk) -> Reply:
            return session.take(text, replace(desk, by_hand=by_hand))

        try:
            return self.answer(ScanToTake(text=text, take=taken, seen=self.counter)).reply
        except StoreLocked as error:
            return Reply.refused(error.message, error.hint)

    def hand(self, prepare: Callable[[Session], None] | None = None) -> Hand:
        """Tell who is here, what is in hand, and what comes next.

        Args:
            prepare: Tells the session who looks.
        """
        with self.store.scanning(only_look=True) as view:
            found = self._found(view, None)
            if prepare is not None:
                prepare(found.session)
            return found.hand()

    def answer(self, scan: ScanToTake) -> Answer:
        """Take a scan: one transaction, if it changes anything.

        Raises:
            NoPlan: No plan is loaded.
            Unavailable: The store cannot be used; nothing was taken.
        """
        with self.store.scanning(only_look=True) as view:
            walk = self._walk(view, scan)
            hand = None if walk.session.to_record else walk.hand()
        if walk.is_to_write():
            with self.store.scanning() as scanning:
                locked = self._still(walk, scan, scanning)
                if locked.session.to_record:
                    locked.reply = self._record(locked, scan.rights, scanning)
                if locked is not walk or hand is None:
                    hand = locked.hand()
                if locked.is_to_write():
                    self._write(locked, scan, scanning)
            walk = locked
        assert hand is not None
        self.session, self.counter = walk.session, walk.counter
        return Answer(walk.reply, replace(hand, counter=walk.counter), walk.is_overtaken)

    def _found(self, view: Scanning, waited_us: int | None) -> _Walk:
        """Give the session as it was written last, in a copy of its own."""
        number = view.plan_number()
        plan = view.plan(number) if number else None
        if plan is None:
            raise NoPlan
        late = waited_us is not None
        desk = Desk(view, plan, self.place, self.clock() - (waited_us or 0), late)
        counter, text = view.stations.session(self.name)
        if counter == self.counter:
            session = self.session.copied()
        elif not text:
            session = _nothing_in_hand()
        else:
            session = Session(read_state(text, self.name))
            session.resume(desk)
        return _Walk(session, counter, view.journal_head(), desk, Reply(Tone.ASK, ""))

    def _walk(self, view: Scanning, scan: ScanToTake) -> _Walk:
        """Find out what a scan comes to; one that was taken before is answered as it was then."""
        walk = self._found(view, scan.waited_us)
        known = view.stations.scan(scan.id) if scan.id else None
        if known is not None:
            walk.reply = Reply(Tone(known.tone), known.say, known.ask)
            return walk
        if not scan.is_late and scan.seen not in (None, walk.counter):
            said = f"somebody else scanned at this station meanwhile: {scan.text or 'Enter'}"
            walk.reply = Reply.refused(f"{said} is not taken", walk.hand().ask)
            walk.is_overtaken = True
            return walk
        session, before = walk.session, walk.session.state
        walk.reply = scan.take(session, walk.desk)
        barred = _why_barred(session, scan.rights)
        if barred:
            # whoever may can confirm it, also what waited
            desk = replace(walk.desk, late=False)
            walk.reply = session.refused(barred, "call somebody who may", desk)
        if scan.rights is not None:
            # who is here follows from who was let in, and is told with every scan
            before = replace(before, person=session.state.person)
        walk.before, walk.is_late = before, scan.is_late
        return walk

    def _still(self, walk: _Walk, scan: ScanToTake, scanning: Scanning) -> _Walk:
        """Give what a scan comes to now that nobody else writes."""
        counter, _ = scanning.stations.session(self.name)
        if (counter, scanning.journal_head()) != (walk.counter, walk.head):
            return self._walk(scanning, replace(scan, seen=walk.counter))
        walk.desk = replace(walk.desk, view=scanning)
        return walk

    def _record(self, walk: _Walk, rights: Collection[Right] | None, scanning: Scanning) -> Reply:
        """Record what the session asks for, and tell it the outcome."""
        session, person, sender = walk.session, walk.session.state.person, None
        if rights is not None:
            sender = Who(person, person, frozenset(rights))
        try:
            events = [parse_event(event, "scan") for event in session.to_record]
            done = record(scanning, events, self.clock, sender=sender)
        except LotkinError as error:
            return session.refused(error.message, error.hint, walk.desk)
        breaches = tuple(breach.message for one in done for breach in one.breaches)
        return session.recorded(tuple(one.id for one in done), breaches)

    def _write(self, walk: _Walk, scan: ScanToTake, scanning: Scanning) -> None:
        """Write the session and the answer down."""
        state = walk.session.state
        walk.counter += 1
        scanning.stations.keep_session(self.name, walk.counter, write_state(state))
        if scan.told is not None:
            scanning.stations.add_scan(scan.told(walk.reply, state.person))


def _nothing_in_hand() -> Session:
    return Session(SessionState(number=str(uuid.uuid4())))


def _why_barred(session: Session, rights: Collection[Right] | None) -> str:
    """Say what the person here may not record; taking back their own work is theirs."""
    if rights is None:
        return ""
    kinds = [str(event["kind"]) for event in session.to_record]
    wanted = {right_to_record(kind) for kind in kinds if kind != "void"}
    lacking = sorted(wanted - set(rights))
    return f"{session.state.person} may not {lacking[0].value} here" if lacking else ""
