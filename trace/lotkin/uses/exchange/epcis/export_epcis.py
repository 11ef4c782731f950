"""Exporting events as an EPCIS 2.0 document (ISO/IEC 19987), in its JSON-LD form."""

from __future__ import annotations

import json
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Protocol

from lotkin.core.cases.membership import find_case
from lotkin.core.epcis.checks.event_hash import event_hash
from lotkin.core.epcis.checks.names import PREFIX, known_prefixes, our_context
from lotkin.core.epcis.extension import EventRows
from lotkin.core.epcis.pieces import pieces
from lotkin.core.epcis.steps import DECLARED
from lotkin.core.epcis.told import Told, moment
from lotkin.core.epcis.writing import state
from lotkin.core.errors import LotkinError, UnknownCase
from lotkin.core.events.reading import parse_event
from lotkin.core.genealogy.draft import Draft
from lotkin.uses.exchange.epcis.naming import Naming
from lotkin.uses.exchange.export_scope import Selected
from lotkin.uses.exchange.files import writing_text
from lotkin.uses.ports import Reading

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import tzinfo
    from pathlib import Path

    from lotkin.core.genealogy.items import Fact, Movement
    from lotkin.core.genealogy.view import Entry
    from lotkin.core.values.canonical import Json
    from lotkin.uses.exchange.import_ports import Listing

    class ReadingEvents(Reading, Listing, Protocol):
        """One state of the store, with all that events brought forth."""

        def all_movements(self) -> Iterator[Movement]:
            """Yield all living movements in order of event and item."""


__all__ = ["EpcisExport", "Scope", "export_epcis"]

NAMES = known_prefixes(our_context())


@dataclass(frozen=True, slots=True)
class Scope:
    """What is exported; everything if nothing is said.

    Attributes:
        items: Codes, serials, labels: these, all behind them, all made of them.
        case: Code of a case: its subjects, and all that came of them.
        start, end: Microseconds UTC: what happened from the first on, and before the second.
    """

    items: tuple[str, ...] = ()
    case: str = ""
    start: int | None = None
    end: int | None = None


@dataclass(frozen=True, slots=True)
class EpcisExport:
    """What was written.

    Attributes:
        events: How many EPCIS events.
        in_error: How many of them are declared to be in error.
    """

    events: int
    in_error: int


def export_epcis(
    view: ReadingEvents, scope: Scope, path: Path, *, zone: tzinfo, now: int
) -> EpcisExport:
    """Write the events of a scope as one document, in the order of the journal.

    Args:
        view: One state of the store.
        scope: What is wanted.
        path: File to write.
        zone: Time zone of the works, for the offsets of the events.
        now: Microseconds UTC, for the document.

    Raises:
        NotFound, Ambiguous: Something in the scope is not recorded, or several things are it.
        BadFile: The file cannot be written.
    """
    teller = _Teller(view, scope, zone)
    header: dict[str, Json] = {
        "@context": our_context(),
        "type": "EPCISDocument",
        "schemaVersion": "2.0",
        "creationDate": moment(now, zone)[0],
    }
    with writing_text(path) as file:
        file.write(json.dumps(header, ensure_ascii=False)[:-1] + ', "epcisBody": {"eventList": [')
        separator = "\n"
        for event in teller.events():
            file.write(separator + json.dumps(event, ensure_ascii=False))
            separator = ",\n"
        file.write("\n]}}\n")
    return EpcisExport(teller.told, teller.in_error)


class _Teller:
    """Tells the events of a scope one after the other."""

    def __init__(self, view: ReadingEvents, scope: Scope, zone: tzinfo) -> None:
        self.view, self.zone, self.scope = view, zone, scope
        self.naming = Naming(view)
        self.told = self.in_error = 0
        self.subjects = _case_subjects(view)
        self.chosen = self._chosen()
        self.rows = self._gather()
        self.readings = _readings(view)
        self.voids = {int(fact.subject): view.entry(fact.event) for fact in view.facts_of("void")}

    def _chosen(self) -> frozenset[str] | None:
        """Give the codes that are wanted; None for all."""
        wanted = list(self.scope.items)
        if self.scope.case:
            case = find_case(self.view, self.scope.case)
            if case is None:
                raise UnknownCase(self.scope.case)
            wanted += case.subjects
        if not wanted:
            return None
        return frozenset(item.code for item in Selected(self.view, wanted).items())

    def _gather(self) -> dict[int, EventRows]:
        """Collect what every event brought forth, as it reads now."""
        rows: dict[int, EventRows] = defaultdict(EventRows)
        wanted = self.chosen
        for item in self.view.all_items():
            rows[item.event].items.append(item)
        for link in self.view.all_links():
            rows[link.event].links.append(link)
        for movement in self.view.all_movements():
            rows[movement.event].movements.append(movement)
        for fact in self.view.facts_of("label"):
            rows[fact.event].labels.append(fact)
        for fact in self.view.facts_of("hold"):
            if self.view.item(fact.subject) is not None:
                rows[fact.event].holds.append(fact)
        if wanted is None:
            return rows
        chosen = {seq: self._only_chosen(each, wanted) for seq, each in rows.items()}
        return {seq: each for seq, each in chosen.items() if each.codes()}

    def events(self) -> Iterator[dict[str, Any]]:
        """Yield EPCIS events, those in error before what corrects them."""
        for entry in self.view.entries():
            if entry.kind in DECLARED or entry.data.get("lacks_right"):
                continue
            readings = self.readings.get(entry.seq, [])
            now = readings[-1][1] if readings else entry.data
            at = parse_event(now, f"event {entry.seq}").at_us if readings else entry.at
            if not self._in_period(at):
                continue
            yield from self._all_readings(entry, readings, now, at)

    def _in_period(self, at: int) -> bool:
        start, end = self.scope.start, self.scope.end
        return (start is None or at >= start) and (end is None or at < end)

    def _all_readings(
        self,
        entry: Entry,
        readings: list[tuple[Entry, dict[str, Json]]],
        now: dict[str, Json],
        at: int,
    ) -> Iterator[dict[str, Any]]:
        void = self.voids.get(entry.seq)
        living = self._living(entry, now, at, len(readings)) if void is None else []
        if void is None and self.chosen is not None and not living:
            return
        corrections = [correction for correction, _ in readings] + ([void] if void else [])
        past = [entry.data, *(data for _, data in readings)][: len(corrections)]
        after: list[str] = [str(event["eventID"]) for event in living]
        wrong: list[dict[str, Any]] = []
        for number in reversed(range(len(past))):
            event = self._erroneous(entry, past[number], number)
            if event is None:
                continue
            event["errorDeclaration"] = self._declared(corrections[number], after)
            after = [str(event["eventID"])]
            wrong.insert(0, event)
        self.in_error += len(wrong)
        for event in (*wrong, *living):
            self.told += 1
            yield event

    def _living(
        self, entry: Entry, data: dict[str, Json], at: int, reading: int
    ) -> list[dict[str, Any]]:
        subjects = self.subjects.get(str(data.get("case")), ())
        told = Told(
            entry.id,
            entry.kind,
            at,
            data,
            self.rows.get(entry.seq, EventRows()),
            reading,
            subjects=subjects if entry.kind == "close-case" else (),
            wanted=self.chosen,
        )
        self.naming.also({})
        return [
            self._named(event)
            for piece in pieces(told)
            if (event := state(piece, self.naming, self.zone)) is not None
        ]

    def _named(self, event: dict[str, Any]) -> dict[str, Any]:
        """Name an event by its hash."""
        event["eventID"] = event_hash(event, NAMES)
        return event

    def _erroneous(
        self, entry: Entry, data: dict[str, Json], reading: int
    ) -> dict[str, Any] | None:
        """Tell an event as it read before it was corrected; what it made is derived anew."""
        draft = Draft(self.view, frozenset({entry.seq}))
        event = parse_event(data, f"event {entry.seq}")
        draft.begin(entry.seq, event.at_us, entry.plan)
        try:
            event.establish(draft)
            event.bring_forth(draft)
            rows = EventRows(list(draft.items.values()), draft.links, draft.movements)
        except LotkinError:  # what it named is not there any more
            rows = EventRows()
        if self.chosen is not None:
            rows = self._only_chosen(rows, self.chosen)
        self.naming.also({item.code: item for item in rows.items})
        told = Told(entry.id, entry.kind, event.at_us, data, rows, reading, wanted=self.chosen)
        stated = state(told, self.naming, self.zone)
        return None if stated is None else self._named(stated)

    def _only_chosen(self, rows: EventRows, wanted: frozenset[str]) -> EventRows:
        """Leave out what the rows say of items that are not wanted."""
        return EventRows(
            [item for item in rows.items if item.code in wanted],
            [link for link in rows.links if link.parent in wanted and link.child in wanted],
            [movement for movement in rows.movements if movement.item in wanted],
            [fact for fact in rows.labels if str(fact.value["item"]) in wanted],
            [fact for fact in rows.holds if fact.subject in wanted],
        )

    def _declared(self, correction: Entry, after: Sequence[str]) -> Json:
        """Say when and why an event was declared to be in error."""
        declared: dict[str, Json] = {
            "declarationTime": moment(correction.recorded_at, self.zone)[0],
            "reason": "did_not_occur" if correction.kind == "void" else "incorrect_data",
        }
        if after and correction.kind != "void":
            declared["correctiveEventIDs"] = list(after)
        reason = str(correction.data.get("reason", ""))
        if reason:
            declared[f"{PREFIX}:reason"] = reason
        return declared


def _case_subjects(view: ReadingEvents) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for entry in view.entries_of(["open-case"]):
        subjects = entry.data["subjects"]
        assert isinstance(subjects, list)
        found[str(entry.data["case"])] = tuple(map(str, subjects))
    return found


def _readings(view: ReadingEvents) -> dict[int, list[tuple[Entry, dict[str, Json]]]]:
    """Map events to (amendment, what they read from then on), the first one first."""
    found: dict[int, list[tuple[Entry, dict[str, Json]]]] = defaultdict(list)
    facts: list[Fact] = sorted(view.facts_of("amended"), key=lambda fact: fact.event)
    for fact in facts:
        reading = fact.value["reading"]
        assert isinstance(reading, dict)
        found[int(fact.subject)].append((view.entry(fact.event), reading))
    return found
