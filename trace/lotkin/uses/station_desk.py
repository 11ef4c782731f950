"""A station as the service runs it: scans have ids, may come late, and are answered once."""

from __future__ import annotations

from dataclasses import dataclass, replace
from threading import Lock
from typing import TYPE_CHECKING

from lotkin.core.dialogue import Reply, ToldScan, Tone
from lotkin.uses.scan import Station
from lotkin.uses.station_memory import read_state, write_state

if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import Protocol

    from lotkin.core.access import Who
    from lotkin.core.dialogue import Hand, SessionState
    from lotkin.uses.ports import CanRead, CanRecord, Clock
    from lotkin.uses.station_ports import KeepsStations

    class CanStation(CanRead, CanRecord, KeepsStations, Protocol):
        """A store that stations work with and that remembers them."""


__all__ = ["SentScan", "StationDesk", "mark_seen", "scans_to_look_at"]


@dataclass(frozen=True, slots=True)
class SentScan:
    """A scan as a device sends it.

    Attributes:
        id: Chosen by the device; sent again, the scan is taken once and answered the same.
        text: What was scanned or typed.
        age_us: How long it waited on the device, in microseconds, by the device's own clock; 0 for
            a scan that came at once.
        person: Code of who was signed in when it was made; "" for whoever sends it.
    """

    id: str
    text: str
    age_us: int = 0
    person: str = ""


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
            return self.station.hand()

    def take(self, scan: SentScan, who: Who) -> tuple[Reply, Hand]:
        """Take a scan; one that was taken before is answered as it was then."""
        with self.lock:
            with self.store.station_notes(only_look=True) as notes:
                known = notes.scan(scan.id)
            if known is not None:
                reply = Reply(Tone(known.tone), known.say, known.ask)
            else:
                self._meet(scan.person or who.person, who)
                at = self.clock() - scan.age_us if scan.age_us > 0 else None
                reply = self.station.take(scan.text, at=at, scan=scan.id)
                self._note(scan, self.station.session.state.person, reply)
            return reply, self.station.hand()

    def leave(self) -> None:
        """Note that whoever was there has gone; work in hand stays for whoever comes next."""
        with self.lock:
            self.station.session.state = replace(self.station.session.state, person="")

    def _meet(self, person: str, who: Who) -> None:
        """Let the dialogue know who is there, as if they had scanned their badge."""
        self.station.rights = who.rights
        state = self.station.session.state
        if state.person != person:
            self.station.session.state = replace(state, person=person)

    def _note(self, scan: SentScan, person: str, reply: Reply) -> None:
        now = self.clock()
        late = scan.age_us > 0
        told = ToldScan(
            id=scan.id,
            station=self.name,
            place=self.place,
            person=person,
            text=scan.text,
            at=now - scan.age_us,
            received_at=now,
            late=late,
            tone=str(reply.tone),
            say=reply.say,
            ask=reply.ask,
            needs_look=late and reply.tone is Tone.REFUSED,
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
