"""Recorded events as they read now: amended ones by their latest reading, voided ones left out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.events.reading import parse_event
from lotkin.core.values.instants import parse_instant, to_us

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from lotkin.core.events import Event
    from lotkin.core.genealogy.view import Entry
    from lotkin.core.values.canonical import Json
    from lotkin.uses.ports import Reading

__all__ = ["AsRead"]


class AsRead:
    """The corrections of one state of the store, looked up once for many events.

    Attributes:
        amended: Number of an event -> numbers of the amendments of it, in order.
        voided: Number of an event -> number of what voided it.
    """

    def __init__(self, view: Reading) -> None:
        self.amended: dict[int, list[int]] = {}
        self.voided = {int(fact.subject): fact.event for fact in view.facts_of("void")}
        self._readings: dict[int, Json] = {}
        for fact in sorted(view.facts_of("amended"), key=lambda fact: fact.event):
            seq = int(fact.subject)
            self.amended.setdefault(seq, []).append(fact.event)
            self._readings[seq] = fact.value["reading"]

    def event(self, entry: Entry) -> Event | None:
        """Give an event as it reads now; None if it was voided."""
        if entry.seq in self.voided:
            return None
        return parse_event(self.data(entry), f"event {entry.seq}")

    def data(self, entry: Entry) -> dict[str, Json]:
        """Give an event as data as it reads now, or read before it was voided."""
        reading = self._readings.get(entry.seq)
        return reading if isinstance(reading, dict) else entry.data

    def events(self, entries: Iterable[Entry]) -> Iterator[tuple[Entry, Event]]:
        """Yield those that were not voided, each with the row it comes from."""
        for entry in entries:
            event = self.event(entry)
            if event is not None:
                yield entry, event

    def corrections_of(self, seqs: Iterable[int]) -> set[int]:
        """Give the numbers of the amendments and voids of some events."""
        found: set[int] = set()
        for seq in seqs:
            found.update(self.amended.get(seq, ()))
            if seq in self.voided:
                found.add(self.voided[seq])
        return found

    def times(self, view: Reading) -> dict[int, int]:
        """Map the number of every event to the microseconds UTC at which it happened."""
        times = {seq: at for seq, (at, _) in view.event_times().items()}
        for seq, reading in self._readings.items():
            if isinstance(reading, dict):
                times[seq] = to_us(parse_instant(str(reading["at"])))
        return times
