"""A station as the service runs it: scans have ids, may come late, and are answered once."""

from __future__ import annotations

from dataclasses import dataclass, replace
from threading import Lock
from typing import TYPE_CHECKING

from lotkin.core.dialogue import Reply, ToldScan, Tone
from lotkin.core.scan.commands import ScanCommand, read_command
from lotkin.uses.stations.local_station import ScanToTake, Station

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.access.rights import Who
    from lotkin.core.dialogue import Desk, Hand, Session
    from lotkin.uses.ports import Clock
    from lotkin.uses.stations.ports import CanScan


__all__ = ["SentScan", "StationDesk", "mark_seen", "scans_to_look_at"]


LONGEST_WAIT_US = 90 * 24 * 3_600_000_000
"""No device waits for longer; a clock that was set right afterwards says that it did."""

CLOCK_STEP_US = 60_000_000
"""By so much clocks are set right in between, and nobody notices."""

US_PER_DAY = 24 * 3_600_000_000

REMEMBERED = 200
"""Answers that a desk has in mind; a device sends again what it got no answer to, and no more."""


@dataclass(frozen=True, slots=True)
class SentScan:
    """A scan as a device sends it.

    Attributes:
        id: Chosen by the device; sent again, the scan is taken once and answered the same.
        text: What was scanned or typed.
        age_us: How long it waited on the device, in microseconds, by the device's own clock; 0 for
            a scan that came at once. An age that cannot be is one of a clock that was wrong.
        person: Code of who was signed in when it was made; "" for whoever sends it.
        by_hand: Somebody scans and taps; a program cannot confirm too quickly.
    """

    id: str
    text: str
    age_us: int = 0
    person: str = ""
    by_hand: bool = True

    @property
    def is_late(self) -> bool:
        """Tell whether it waited on the device."""
        return self.age_us != 0

    @property
    def is_dated(self) -> bool:
        """Tell whether its age can be: the device's clock may have been wrong, or set meanwhile."""
        return -CLOCK_STEP_US <= self.age_us <= LONGEST_WAIT_US

    @property
    def waited_us(self) -> int:
        """Give how long ago it was made; 0, the moment it came, where nobody can know."""
        return max(self.age_us, 0) if self.is_dated else 0


class StationDesk:
    """One station; its scans are taken one after the other, whoever sends them.

    Args:
        store: Where to record.
        name: Of the station; a place can have several.
        place: Code of the place.
        clock: Tells the time.
    """

    def __init__(self, store: CanScan, name: str, place: str, clock: Clock) -> None:
        self.station = Station(store, place, clock, name)
        self.lock = Lock()
        self._said: dict[str, Reply] = {}

    def look(self, who: Who) -> Hand:
        """Tell what is in hand, for whoever stands there now."""
        with self.lock:
            return self.station.hand(lambda session: _meet(session, who.person, who))

    def take(self, scan: SentScan, who: Who, seen: int | None = None) -> tuple[Reply, Hand]:
        """Take a scan; see `take_all`."""
        replies, hand = self.take_all([scan], who, seen)
        return replies[0], hand

    def take_all(
        self, scans: Sequence[SentScan], who: Who, seen: int | None = None
    ) -> tuple[list[Reply], Hand]:
        """Take scans in their order; one that was taken before is answered as it was then.

        Args:
            scans: One at least.
            who: Was let in.
            seen: Counter of what the device showed before them; None if it does not say.

        Returns:
            A reply to each, and what is in hand after the last.
        """
        replies = []
        with self.lock:
            for scan in scans:
                answer = self.station.answer(self._to_take(scan, who, seen))
                replies.append(answer.reply)
                self._remember(scan, answer.reply)
                if seen is not None and not answer.is_overtaken:
                    seen = answer.hand.counter
        return replies, answer.hand

    def _remember(self, scan: SentScan, reply: Reply) -> None:
        """Keep what was said in mind: nothing is written of a scan that changed nothing."""
        self._said[scan.id] = reply
        if len(self._said) > REMEMBERED:
            del self._said[next(iter(self._said))]

    def _to_take(self, scan: SentScan, who: Who, seen: int | None) -> ScanToTake:
        take = _late if scan.is_late else _now

        def taken(session: Session, desk: Desk) -> Reply:
            said = self._said.get(scan.id)
            if said is None:
                return take(session, desk, scan, who)
            _meet(session, who.person, who)
            return said

        return ScanToTake(
            text=scan.text,
            take=taken,
            waited_us=scan.waited_us if scan.is_late else None,
            id=scan.id,
            seen=seen,
            rights=who.rights,
            told=lambda reply, person: self._told(scan, person, reply),
        )

    def _told(self, scan: SentScan, person: str, reply: Reply) -> ToldScan:
        now = self.station.clock()
        late = scan.is_late
        return ToldScan(
            id=scan.id,
            station=self.station.name,
            place=self.station.place,
            person=person,
            text=scan.text,
            at=now - scan.waited_us,
            received_at=now,
            late=late,
            tone=str(reply.tone),
            say=reply.say,
            ask=reply.ask,
            needs_look=late
            and scan.id not in self._said
            and (reply.tone is Tone.REFUSED or not scan.is_dated),
        )


def _now(session: Session, desk: Desk, scan: SentScan, who: Who) -> Reply:
    """Take a scan that came at once: here a badge alone lets nobody in."""
    _meet(session, who.person, who)
    text = scan.text.strip()
    known = desk.plan.person(text)
    if known is not None and text != who.person:
        _claim(session, text)
        return Reply(Tone.ASK, f"hello {known.name}", _ask_for_pin(session, desk, who))
    if known is not None or read_command(text) is ScanCommand.CANCEL:
        was_claimed = bool(session.state.claim)
        _claim(session, "")
        if was_claimed and known is None:
            return Reply(Tone.OK, f"{who.name} goes on", session.hand(desk).ask)
    if session.state.claim:
        said = f"{scan.text or 'Enter'} is not taken yet"
        return Reply.refused(said, _ask_for_pin(session, desk, who))
    return session.take(scan.text, replace(desk, by_hand=scan.by_hand))


def _late(session: Session, desk: Desk, scan: SentScan, who: Who) -> Reply:
    """Take a scan that waited: a badge shown meanwhile is all that tells who was there."""
    text = scan.text.strip()
    remarks = []
    if desk.plan.person(text) is not None:
        _claim(session, "" if text == (scan.person or who.person) else text)
    claim = session.state.claim
    if claim:
        remarks.append(f"{claim} by badge alone, the service was away")
    if not scan.is_dated:
        days = abs(scan.age_us) // US_PER_DAY
        when = "before" if scan.age_us > 0 else "after"
        remarks.append(f"time unsure: by the device's clock {days} days {when} it came")
    _meet(session, claim or scan.person or who.person, who)
    return session.take(scan.text, replace(desk, remark="; ".join(remarks)))


def _claim(session: Session, person: str) -> None:
    session.state = replace(session.state, claim=person)


def _ask_for_pin(session: Session, desk: Desk, who: Who) -> str:
    name = desk.name_of(session.state.claim)
    return f"{name}: enter your PIN, or scan CANCEL for {who.name} to go on"


def _meet(session: Session, person: str, who: Who) -> None:
    """Let the dialogue know who is there, as if they had scanned their badge."""
    claim = "" if session.state.claim == who.person else session.state.claim
    session.state = replace(session.state, person=person, claim=claim)


def scans_to_look_at(store: CanScan) -> Sequence[ToldScan]:
    """List late scans that led nowhere and that nobody has looked at, the oldest first."""
    with store.scanning(only_look=True) as view:
        return view.stations.scans_to_look_at()


def mark_seen(store: CanScan, number: str, person: str) -> bool:
    """Note that somebody has looked at a late scan; False if there was none to look at."""
    with store.scanning() as scanning:
        return scanning.stations.seen(number, person)
