"""What the events of a document mean here, and what was taken over of them before."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from lotkin.core.epcis.adoption import Adoption, id_of, names_in
from lotkin.core.epcis.checks.document_checks import Fault
from lotkin.core.epcis.checks.names import PREFIX
from lotkin.core.epcis.extension import read_rows
from lotkin.core.epcis.partner.reader import PartnerReader
from lotkin.core.errors import LotkinError
from lotkin.core.events.reading import parse_event, read
from lotkin.core.genealogy.draft import Draft
from lotkin.uses.exchange.epcis.lookup import KnownItems
from lotkin.uses.exchange.epcis.sent_events import (
    Sent,
    bare,
    codes_named,
    merged,
    moment_of,
    united,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.genealogy.view import Entry
    from lotkin.uses.ports import Recording

__all__ = ["Understanding", "Who"]


@dataclass(frozen=True, slots=True)
class Who:
    """Who imports what of whom.

    Attributes:
        by: Code of the person.
        supplier: Our code of whose document it is; "" if unknown. Lots that only the standard's
            fields name are theirs.
        prefix: Put before every code of a works that also uses lotkin; "" for none.
    """

    by: str
    supplier: str = ""
    prefix: str = ""


@dataclass(slots=True)
class AdoptedBefore:
    """An adoption that is in the journal: its entry, and whether it was voided since."""

    entry: Entry | None
    turn: int = 0
    reading: dict[str, Any] = field(default_factory=dict)


class Understanding:
    """Reads the events of one document.

    Attributes:
        faults: What does not fit.
        left_out: (path, what is not taken over and why).
    """

    def __init__(self, recording: Recording, sent: Sequence[Sent], who: Who) -> None:
        self.recording, self.sent, self.who = recording, sent, who
        self.faults: list[Fault] = []
        self.left_out: list[tuple[str, str]] = []

    def adoptions(self, living: list[Sent]) -> list[Adoption]:
        """Understand events; what does not fit is in `faults`, what is left out in `left_out`."""
        found = [self._own(each) for each in living if each.is_ours]
        others = merged([each for each in living if not each.is_ours])
        others.sort(key=lambda parts: moment_of(parts[0].event))
        roots = self._roots()
        hashes = [tuple(sorted(one.hash for one in parts)) for parts in others]
        identities = [roots.get(each[0], " ".join(each)) for each in hashes]
        wrong = [each.hash for each in self.sent if each.error is not None and not each.is_ours]
        reader = PartnerReader(self._known([*identities, *wrong]), self.who.supplier)
        self.left_out = reader.left_out
        for parts, digests, identity in zip(others, hashes, identities, strict=True):
            adoption = reader.read(parts[0].path, united(parts), digests)
            adoption.identity = identity
            found.append(adoption)
        return found

    def _known(self, identities: list[str]) -> KnownItems:
        """Tell what is recorded here but for what this document itself brought."""
        entries = [self.recorded_as(identity).entry for identity in identities]
        brought = frozenset(entry.seq for entry in entries if entry is not None)
        return KnownItems(self.recording, brought)

    def _roots(self) -> dict[str, str]:
        """Map a correcting event to the first that was in error: they are one event."""
        after = {
            each.hash: [bare(uri) for uri in each.error.get("correctiveEventIDs", ())]
            for each in self.sent
            if each.error is not None and not each.is_ours
        }
        roots: dict[str, str] = {}
        corrected = {digest for digests in after.values() for digest in digests}
        for first in after:
            if first in corrected:
                continue
            at, seen = first, {first}
            while len(after.get(at, ())) == 1 and after[at][0] not in seen:
                at = after[at][0]
                seen.add(at)
            roots[at] = first
        return roots

    def identity_of(self, sent: Sent) -> str:
        """Tell an event from all others; one of ours under a prefix is another one."""
        prefixed = self.who.prefix and sent.is_ours
        return f"{self.who.prefix} {sent.own_identity}" if prefixed else sent.own_identity

    def _own(self, sent: Sent) -> Adoption:
        faults: list[tuple[str, str]] = []
        rows = read_rows(sent.event, faults)
        said = str(sent.event.get("eventID", ""))
        if bare(said) != sent.hash:
            faults.append(("eventID", "is not the hash of what the event says; it was changed"))
        at = moment_of(sent.event)
        adoption = Adoption(sent.path, at, (sent.hash,), self.identity_of(sent), rows)
        if not faults:
            named = codes_named(sent.event)
            faults += [
                (f"{PREFIX}:item", f"{code} is not in the event's own lists")
                for code in sorted(names_in(rows) - named)
            ]
        if self.who.prefix:
            _put_before(self.who.prefix, rows)
        if not faults:
            try:
                parse_event(self.data_of(adoption, adoption.event_id()), "the event")
            except LotkinError as error:
                faults.append(("", error.message))
        self.faults += [
            Fault(f"{sent.path}.{path}".rstrip("."), message) for path, message in faults
        ]
        return adoption

    def data_of(self, adoption: Adoption, event_id: object) -> dict[str, Any]:
        """Write the event `adopt` of an adoption."""
        return {
            "kind": "adopt",
            "id": event_id,
            "at": adoption.at,
            "by": self.who.by,
            "reported": True,
            "hashes": adoption.hashes,
            "foreign": adoption.foreign,
            **adoption.rows,
        }

    def recorded_as(self, identity: str) -> AdoptedBefore:
        """Find what was taken over before; after a void a new turn begins."""
        turn = 0
        while True:
            entry = self.recording.entry_by_id(str(id_of(identity, turn)))
            if entry is None:
                return AdoptedBefore(None, turn)
            if not self.recording.facts("void", str(entry.seq)):
                event = read(Draft(self.recording), entry)
                return AdoptedBefore(entry, turn, event.to_data())
            turn += 1


def _put_before(prefix: str, rows: dict[str, list[dict[str, Any]]]) -> None:
    """Put a prefix before every code."""
    fields = ("code", "parent", "child", "item", "serial", "text")
    for section in rows.values():
        for row in section:
            for name in (*fields, "origin_within", "destination_within"):
                if row.get(name):
                    row[name] = prefix + row[name]
