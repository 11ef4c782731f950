"""A station as the service runs it: scans have ids, may come late, and are answered once."""

from __future__ import annotations

from dataclasses import dataclass, replace
from threading import Lock
from typing import TYPE_CHECKING

from lotkin.core.dialogue import Reply, ToldScan, Tone
from lotkin.core.scan.commands import ScanCommand, read_command
from lotkin.uses.stations.local_station import Station
from lotkin.uses.stations.memory import read_state, write_state

if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import Protocol

    from lotkin.core.access.rights import Who
    from lotkin.core.dialogue import Hand, SessionState
    from lotkin.uses.ports import CanRead, CanRecord, Clock
    from lotkin.uses.stations.ports import KeepsStations

    class CanStation(CanRead, CanRecord, KeepsStations, Protocol):
        """A store that stations work with and that remembers them."""


__all__ = ["SentScan", "StationDesk", "mark_seen", "scans_to_look_at"]


LONGEST_WAIT_US = 90 * 24 * 3_600_000_000
"""No device waits for longer; a clock that was set right afterwards says that it did."""

CLOCK_STEP_US = 60_000_000
"""By so much clocks are set right in between, and nobody notices."""

US_PER_DAY = 24 * 3_600_000_000


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


class _StoredMemory:
    """The session of a station, kept in the store."""

    def __init__(self, store: KeepsStations, station: str) -> None:
        self.store, self.station = store, station

    def load(self) -> SessionState | None:
        with self.store.station_notes(only_look=True) as notes:
            text = notes.state(self.station)
        return read_state(text, f"station {self.station}") if text else None

    def save(self, state: SessionState) -> None:
        with self.store.station_notes() as notes:
            notes.keep_state(self.station, write_state(state))


class StationDesk:
    """One station; its scans are taken one after the other, whoever sends them.

    Args:
        store: Where to record.
        name: Of the station; a place can have several.
        place: Code of the place.
        clock: Tells the time.
    """

    def __init__(self, store: CanStation, name: str, place: str, clock: Clock) -> None:
        self.store, self.name, self.place, self.clock = store, name, place, clock
        self.lock = Lock()
        self.station = Station(store, place, clock, _StoredMemory(store, name))
        cut_off = self.station.session.state
        reply = self.station.begin()
        if cut_off.pending and cut_off.scan:
            # The service stopped between recording and answering: the device will ask again.
            self._note(SentScan(cut_off.scan, ""), cut_off.person, reply)

    def look(self, who: Who) -> Hand:
        """Tell what is in hand, for whoever stands there now."""
        with self.lock:
            self._meet(who.person, who)
            return self._hand()

    def take(self, scan: SentScan, who: Who) -> tuple[Reply, Hand]:
        """Take a scan; one that was taken before is answered as it was then."""
        with self.lock:
            with self.store.station_notes(only_look=True) as notes:
                known = notes.scan(scan.id)
            if known is not None:
                reply = Reply(Tone(known.tone), known.say, known.ask)
            else:
                reply = self._late(scan, who) if scan.is_late else self._now(scan, who)
                self._note(scan, self.station.session.state.person, reply)
            return reply, self._hand()

    def _now(self, scan: SentScan, who: Who) -> Reply:
        """Take a scan that came at once: here a badge alone lets nobody in."""
        self._meet(who.person, who)
        person = scan.text.strip()
        name = self.station.person(person)
        if name and person != who.person:
            self._claim(person)
            return Reply(Tone.ASK, f"hello {name}", self._ask_for_pin(who))
        if name or read_command(person) is ScanCommand.CANCEL:
            was_claimed = bool(self._state.claim)
            self._claim("")
            if was_claimed and not name:
                return Reply(Tone.OK, f"{who.name} goes on", self.station.hand().ask)
        if self._state.claim:
            return Reply.refused(f"{scan.text or 'Enter'} is not taken yet", self._ask_for_pin(who))
        return self.station.take(scan.text, scan=scan.id, by_hand=scan.by_hand)

    def _late(self, scan: SentScan, who: Who) -> Reply:
        """Take a scan that waited: a badge shown meanwhile is all that tells who was there."""
        person = scan.text.strip()
        remarks = []
        if self.station.person(person):
            self._claim("" if person == (scan.person or who.person) else person)
        if self._state.claim:
            remarks.append(f"{self._state.claim} by badge alone, the service was away")
        if not scan.is_dated:
            days = abs(scan.age_us) // US_PER_DAY
            when = "before" if scan.age_us > 0 else "after"
            remarks.append(f"time unsure: by the device's clock {days} days {when} it came")
        self._meet(self._state.claim or scan.person or who.person, who)
        at = self.clock() - scan.waited_us
        return self.station.take(scan.text, at=at, scan=scan.id, remark="; ".join(remarks))

    @property
    def _state(self) -> SessionState:
        return self.station.session.state

    def _claim(self, person: str) -> None:
        self.station.session.state = replace(self._state, claim=person)

    def _ask_for_pin(self, who: Who) -> str:
        name = self.station.person(self._state.claim)
        return f"{name}: enter your PIN, or scan CANCEL for {who.name} to go on"

    def _hand(self) -> Hand:
        """Tell what is in hand, and whose PIN is wanted first."""
        hand = self.station.hand()
        claim = self._state.claim
        if not claim:
            return hand
        return replace(hand, claim=claim, claim_name=self.station.person(claim))

    def leave(self) -> None:
        """Note that whoever was there has gone; work in hand stays for whoever comes next."""
        with self.lock:
            self.station.session.state = replace(self.station.session.state, person="")

    def _meet(self, person: str, who: Who) -> None:
        """Let the dialogue know who is there, as if they had scanned their badge."""
        self.station.rights = who.rights
        claim = "" if self._state.claim == who.person else self._state.claim
        self.station.session.state = replace(self._state, person=person, claim=claim)

    def _note(self, scan: SentScan, person: str, reply: Reply) -> None:
        now = self.clock()
        late = scan.is_late
        told = ToldScan(
            id=scan.id,
            station=self.name,
            place=self.place,
            person=person,
            text=scan.text,
            at=now - scan.waited_us,
            received_at=now,
            late=late,
            tone=str(reply.tone),
            say=reply.say,
            ask=reply.ask,
            needs_look=late and (reply.tone is Tone.REFUSED or not scan.is_dated),
        )
        with self.store.station_notes() as notes:
            notes.add_scan(told)


def scans_to_look_at(store: KeepsStations) -> Sequence[ToldScan]:
    """List late scans that led nowhere and that nobody has looked at, the oldest first."""
    with store.station_notes(only_look=True) as notes:
        return notes.scans_to_look_at()


def mark_seen(store: KeepsStations, number: str, person: str) -> bool:
    """Note that somebody has looked at a late scan; False if there was none to look at."""
    with store.station_notes() as notes:
        return notes.seen(number, person)
