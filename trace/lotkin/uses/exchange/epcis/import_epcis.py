"""Importing events from an EPCIS 2.0 document (ISO/IEC 19987): our own, or somebody else's."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING, Any
from uuid import NAMESPACE_OID, uuid5

from lotkin.core.epcis.adoption import Adoption, in_order
from lotkin.core.epcis.checks.document_checks import Fault, check_document
from lotkin.core.epcis.not_kept import fields_not_kept
from lotkin.core.errors import BadDocument, LotkinError
from lotkin.core.events.reading import parse_event
from lotkin.core.values.instants import from_us
from lotkin.uses.exchange.epcis.sent_events import load_document, sent_events
from lotkin.uses.exchange.epcis.understanding import Understanding
from lotkin.uses.recording.record import record_one

if TYPE_CHECKING:
    from pathlib import Path

    from lotkin.core.genealogy.view import Entry
    from lotkin.uses.exchange.epcis.understanding import Who
    from lotkin.uses.ports import CanRecord, Clock, Recording

__all__ = ["EpcisImport", "import_epcis"]


@dataclass(frozen=True, slots=True)
class EpcisImport:
    """What became of a document.

    Attributes:
        events: How many it holds.
        adopted, amended, voided, repeated: How many were taken over, read anew because they were
            corrected, taken back, and were taken over before.
        items, links: How many were made.
        left_out: What was not taken over, each with where and why.
        not_kept: Field -> number of events of which what it says was not taken over.
    """

    events: int
    adopted: int = 0
    amended: int = 0
    voided: int = 0
    repeated: int = 0
    items: int = 0
    links: int = 0
    left_out: tuple[str, ...] = ()
    not_kept: dict[str, int] = field(default_factory=dict)


class _TrialError(Exception):
    """Ends a transaction that was only a trial."""


def import_epcis(
    store: CanRecord, path: Path, who: Who, *, dry_run: bool, clock: Clock
) -> EpcisImport:
    """Take over the events of a document, all of them or none.

    An event that was taken over before is not taken over again. One that reads differently now, or
    was declared to be in error, amends or voids what was recorded.

    Args:
        store: Where to.
        path: The document.
        who: Who imports what of whom.
        dry_run: Do it all, and keep nothing.
        clock: Tells when it is recorded.

    Raises:
        BadFile: The file cannot be read, or is not JSON.
        BadDocument: It breaks the standard or does not fit; everything wrong is listed.
    """
    document = load_document(path)
    faults = check_document(document)
    if faults:
        raise _refused(path, faults)
    report: EpcisImport | None = None
    try:
        with store.recording() as recording:
            taker = _Taker(recording, document, who, clock)
            report = taker.take()
            if taker.faults:
                raise _refused(path, taker.faults)
            if dry_run:
                raise _TrialError
    except _TrialError:
        pass
    assert report is not None
    return report


def _refused(path: Path, faults: list[Fault]) -> BadDocument:
    return BadDocument(path.name, [str(fault) for fault in faults])


@dataclass(slots=True)
class _Count:
    adopted: int = 0
    amended: int = 0
    voided: int = 0
    repeated: int = 0
    items: int = 0
    links: int = 0


class _Taker:
    """Takes over the events of one document within one transaction.

    Attributes:
        faults: What does not fit.
    """

    def __init__(
        self, recording: Recording, document: dict[str, Any], who: Who, clock: Clock
    ) -> None:
        self.recording, self.who, self.clock = recording, who, clock
        self.count = _Count()
        self.sent = list(sent_events(document))
        self.understanding = Understanding(recording, self.sent, who)
        self.faults = self.understanding.faults
        self.number = 0

    def take(self) -> EpcisImport:
        """Do it; what does not fit is in `faults`."""
        living = [each for each in self.sent if each.error is None]
        adoptions = self.understanding.adoptions(living)
        if not self.faults:
            self._take_back({each.identity for each in adoptions})
            self._record(in_order(adoptions))
        left_out = tuple(f"{path}: {why}" for path, why in self.understanding.left_out)
        not_kept = fields_not_kept([(each.event, each.is_ours) for each in living])
        return EpcisImport(
            len(self.sent), **asdict(self.count), left_out=left_out, not_kept=not_kept
        )

    # --- recording

    def _take_back(self, living: set[str]) -> None:
        """Void what was taken over and is now declared not to have happened."""
        for each in self.sent:
            if each.error is None:
                continue
            identity = self.understanding.identity_of(each)
            known = self.understanding.recorded_as(identity)
            if known.entry is None or identity in living:
                continue
            if self._try(
                each.path,
                {
                    "kind": "void",
                    "id": self._id(f"void {known.entry.id}"),
                    "at": self._now(),
                    "by": self.who.by,
                    "event": known.entry.id,
                    "reason": "declared to be in error by whoever recorded it",
                },
            ):
                self.count.voided += 1

    def _record(self, adoptions: list[Adoption]) -> None:
        changed: list[tuple[Adoption, Entry]] = []
        waiting: list[tuple[Adoption, int]] = []
        for each in adoptions:
            known = self.understanding.recorded_as(each.identity)
            if known.entry is None:
                if not each.is_empty():
                    waiting.append((each, known.turn))
            elif tuple(known.reading.get("hashes", ())) == each.hashes:
                self.count.repeated += 1
            else:
                changed.append((each, known.entry))
        later: list[tuple[Adoption, int]] = []
        for each, turn in waiting:
            if changed and not self._is_ready(each):
                later.append((each, turn))
            else:
                self._adopt(each, turn)
        if changed:
            self._amend(changed)
        for each, turn in later:
            self._adopt(each, turn)

    def _is_ready(self, adoption: Adoption) -> bool:
        needed = adoption.names() - adoption.makes()
        return all(self.recording.item(code) is not None for code in needed)

    def _adopt(self, adoption: Adoption, turn: int) -> None:
        if self._try(adoption.path, self.understanding.data_of(adoption, adoption.event_id(turn))):
            self.count.adopted += 1
            self.count.items += len(adoption.rows.get("items", ()))
            self.count.links += len(adoption.rows.get("links", ()))

    def _amend(self, changed: list[tuple[Adoption, Entry]]) -> None:
        changes = []
        for adoption, entry in changed:
            whole = parse_event(
                self.understanding.data_of(adoption, entry.id), "the event"
            ).to_data()
            patch: dict[str, Any] = {
                name: whole.get(name) for name in ("items", "links", "postings", "labels", "holds")
            }
            patch |= {"at": whole["at"], "hashes": whole["hashes"]}
            changes.append({"event": entry.id, "patch": patch})
        done = self._try(
            changed[0][0].path,
            {
                "kind": "amend",
                "id": self._id(" ".join(digest for each, _ in changed for digest in each.hashes)),
                "at": self._now(),
                "by": self.who.by,
                "reason": "reads differently in a newer document",
                "changes": changes,
            },
        )
        if done:
            self.count.amended += len(changed)

    def _id(self, what: str) -> str:
        self.number += 1
        head = self.recording.head[1]
        return str(uuid5(NAMESPACE_OID, f"lotkin {what} {head} {self.number}"))

    def _now(self) -> datetime:
        return from_us(self.clock())

    def _try(self, path: str, data: dict[str, Any]) -> bool:
        """Record an event, or note why that cannot be."""
        try:
            record_one(self.recording, parse_event(data, "the event"), self.clock())
        except LotkinError as error:
            self.faults.append(Fault(path, error.message))
            return False
        return True
