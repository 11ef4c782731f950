"""Goods-in: a delivery is proposed, read back and recorded, on hold where that is due."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from lotkin.core.errors import BadEvent, EventIdReused, NotConfirmed
from lotkin.core.events.material.receive import Receive
from lotkin.core.events.reading import parse_event
from lotkin.core.materials import Finding, Severity
from lotkin.core.values.codes import new_code
from lotkin.core.values.instants import from_us, to_us
from lotkin.uses.recording.delivery import supplier_code
from lotkin.uses.recording.delivery_findings import NO_EXPIRY_GIVEN, findings_of
from lotkin.uses.recording.record import Recorded, record_one

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping
    from uuid import UUID

    from lotkin.core.genealogy.view import Entry, View
    from lotkin.core.plan import ShopPlan
    from lotkin.core.values.canonical import Json
    from lotkin.uses.ports import CanRead, CanRecord, Clock, Recording
    from lotkin.uses.recording.attachments import KeepsDocuments
    from lotkin.uses.recording.delivery import Delivery

__all__ = ["Proposal", "Received", "propose", "receive"]

CODE_LENGTH = 8
CODES = 31 ** (CODE_LENGTH - 1)
"""How many codes of that length `new_code` makes."""

LONGEST_REASON = 2000
LONGEST_MESSAGE = 500
MOST_MESSAGES = 100
"""As much as an event can say."""

FILLED_IN = (
    "id",
    "kind",
    "at",
    "code",
    "item_kind",
    "unit",
    "quantity",
    "due",
    "due_by_plan",
    "no_printed_expiry",
    "hold",
    "confirmed",
)
"""What is made up where the sender says nothing; a delivery sent again takes it as it was."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """What a delivery would be recorded as.

    Attributes:
        event: The event, less what the plan fills in when it is recorded.
        findings: All that was found.
    """

    event: Receive
    findings: tuple[Finding, ...]

    @property
    def reasons(self) -> tuple[str, ...]:
        """Why it is received on hold, besides what whoever receives it says; empty if it is not."""
        return _messages(self.findings, Severity.HOLD)

    @property
    def questions(self) -> tuple[str, ...]:
        """What is to be confirmed before it is recorded."""
        return _messages(self.findings, Severity.WARNING)

    @property
    def notes(self) -> tuple[str, ...]:
        """What is only told."""
        return _messages(self.findings, Severity.NOTE)


@dataclass(frozen=True, slots=True)
class Received:
    """What became of a delivery.

    Attributes:
        recorded: Number, id and code of what was made.
        event: The event as it is in the journal.
        findings: All that was found; empty if it was recorded before.
    """

    recorded: Recorded
    event: Mapping[str, Json]
    findings: tuple[Finding, ...] = ()

    @property
    def notes(self) -> tuple[str, ...]:
        """What is only told."""
        return _messages(self.findings, Severity.NOTE)


def propose(store: CanRead, delivery: Delivery, clock: Clock) -> Proposal:
    """Tell what a delivery would be recorded as; nothing is recorded or kept.

    Raises:
        BadEvent: Something is missing or malformed.
    """
    with store.reading() as view:
        number = view.plan_number()
        plan = view.plan(number) if number else None
        return _proposal(view, plan, _named(delivery, plan), clock())


def receive(
    store: CanRecord,
    keeper: KeepsDocuments,
    delivery: Delivery,
    clock: Clock,
    *,
    confirmed: Collection[str] = (),
) -> Received:
    """Record a delivery, once however often it is sent.

    What is missing or out of its limits lets it in on hold, with the reason. Its documents are kept
    before the event that names them is.

    Args:
        store: Where to.
        keeper: Keeps the documents.
        delivery: What came.
        clock: Tells the time.
        confirmed: The questions of the proposal that somebody has seen and confirmed.

    Raises:
        NotConfirmed: There are other questions; nothing is recorded.
        EventIdReused: Another delivery, or other event, was recorded under its id.
        LotkinError: A rule refuses the event, or it is malformed.
    """
    with store.recording() as recording:
        now = clock()
        known = recording.entry_by_id(str(delivery.id))
        number = recording.plan_number()
        plan = recording.plan(number) if number else None
        delivery = _named(delivery, plan)
        if known is not None:
            return _again(recording, known, delivery, plan)
        proposal = _proposal(recording, plan, delivery, now)
        open_questions = [q for q in proposal.questions if q not in confirmed]
        if open_questions:
            raise NotConfirmed(delivery.part, open_questions)
        for paper in delivery.papers:
            keeper.put(paper.content)
        done = record_one(recording, proposal.event, now)
        return Received(done, recording.entry(done.seq).data, proposal.findings)


def _named(delivery: Delivery, plan: ShopPlan | None) -> Delivery:
    """Give a delivery with the code of its supplier, however that was typed."""
    return replace(delivery, supplier=supplier_code(delivery.supplier, plan))


def _proposal(view: View, plan: ShopPlan | None, delivery: Delivery, now: int) -> Proposal:
    lacking = delivery.lacks(plan)
    if lacking:
        raise BadEvent(delivery.part or "delivery", f"needs {', '.join(lacking)}")
    at_us = to_us(delivery.at) if delivery.at is not None else now
    data: dict[str, Json] = {
        "at": from_us(at_us).isoformat(),
        "code": delivery.code or _free_code(view, delivery.id),
        **_said(delivery, plan),
    }
    # checked first: what is no event is not looked at
    parse_event(data, delivery.part)
    findings = findings_of(view, plan, delivery, at_us)
    reasons = filter(None, [delivery.hold, *_messages(findings, Severity.HOLD)])
    data["hold"] = "; ".join(reasons)[:LONGEST_REASON]
    data["confirmed"] = list(_messages(findings, Severity.WARNING))
    # whoever confirms that question says that none is printed
    data["no_printed_expiry"] = any(found.rule == NO_EXPIRY_GIVEN for found in findings)
    event = parse_event(data, delivery.part)
    assert isinstance(event, Receive)
    return Proposal(event, tuple(findings))


def _said(delivery: Delivery, plan: ShopPlan | None) -> dict[str, Json]:
    """Give the fields of the event that the delivery itself says."""
    documents: list[Json] = [
        {
            "sha256": hashlib.sha256(paper.content).hexdigest(),
            "name": paper.name,
            "media_type": paper.media_type,
            "size": len(paper.content),
        }
        for paper in delivery.papers
    ]
    said: dict[str, Json] = {"kind": "receive", "id": str(delivery.id), **delivery.said(plan)}
    return {**said, "documents": documents} if documents else said


def _free_code(view: View, event: UUID) -> str:
    """Make a code for the lot out of the id of the event: sent again, it gets the same."""
    number = event.int % CODES
    while True:
        code = new_code(number, CODE_LENGTH)
        if view.item(code) is None and view.label(code) is None:
            return code
        number = (number + 1) % CODES


def _again(
    recording: Recording, known: Entry, delivery: Delivery, plan: ShopPlan | None
) -> Received:
    """Answer a delivery that is sent again as it was answered before.

    Raises:
        EventIdReused: It says something else than what was recorded.
    """
    before = dict(known.data)
    kept = {name: before[name] for name in FILLED_IN if name in before}
    said = {**kept, **_said(delivery, plan)}
    for name in ("unit", "due", "item_kind"):
        if name in kept and not getattr(delivery, name):
            said[name] = kept[name]
    same = known.kind == "receive" and delivery.hold in str(before.get("hold", ""))
    if not same or _without_source_code(said) != _without_source_code(before):
        raise EventIdReused(known.id, known.seq)
    made = tuple(recording.made_by(known.seq))
    done = Recorded(known.seq, known.id, known.kind, True, known.breaches, made)
    return Received(done, known.data)


def _without_source_code(data: dict[str, Json]) -> dict[str, Json]:
    """Write an event in its one spelling, less the code of the source that may be filled in."""
    plain = parse_event(data, "delivery").to_data()
    source = plain.get("source")
    if isinstance(source, dict):
        plain["source"] = {name: value for name, value in source.items() if name != "code"}
    return plain


def _messages(findings: Collection[Finding], severity: Severity) -> tuple[str, ...]:
    found = (f.message[:LONGEST_MESSAGE].strip() for f in findings if f.severity is severity)
    return tuple(dict.fromkeys(found))[:MOST_MESSAGES]
