"""Recording events: the one way by which anything gets into the store."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.cases.membership import members_of, open_cases
from lotkin.core.errors import BadEvent, EventIdReused
from lotkin.core.events.acting import check_who, placed_in_time, rights_behind
from lotkin.core.events.derivation import effects_of
from lotkin.core.events.parts.filled_in import filled_in_sent
from lotkin.core.events.reading import LONGEST_REASON
from lotkin.core.genealogy.draft import Draft
from lotkin.core.genealogy.view import Breach, Entry
from lotkin.core.journal.chain import chained
from lotkin.core.rules.checking import Shop
from lotkin.core.rules.leading import Mode
from lotkin.core.values.canonical import canonical, digest
from lotkin.core.values.gc_paused import paused_collector

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.core.access.rights import Who
    from lotkin.core.events import Event
    from lotkin.uses.ports import CanRecord, Clock, Recording

__all__ = ["Recorded", "record", "record_one"]

CORRECTING = frozenset({"amend", "void", "identify", "mount", "unpack"})
"""Kinds that can change what earlier events brought forth."""


@dataclass(frozen=True, slots=True)
class Recorded:
    """What became of an event.

    Attributes:
        seq: Its number in the journal.
        id: The sender's id.
        kind: Its kind.
        repeated: It was recorded before and nothing was added now.
        breaches: Rules that it broke (reported events only).
        made: Codes of the items that it made, as recorded.
    """

    seq: int
    id: str
    kind: str
    repeated: bool
    breaches: tuple[Breach, ...]
    made: tuple[str, ...]


LOOKED_UP = 5_000
"""Events of which is looked up together what they name."""


def record(
    store: CanRecord,
    events: Iterable[Event],
    clock: Clock,
    *,
    ahead: Sequence[Event] = (),
    sender: Who | None = None,
) -> list[Recorded]:
    """Record events in their order in one transaction: all of them or none.

    Args:
        store: Where to.
        events: Events as sent.
        clock: Tells when they are recorded.
        ahead: The same events, if they are known before they come; a list is known anyway.
        sender: Who sends them, if they were let in; else whom an event names is taken at its word.

    Returns:
        What became of each, in the same order.

    Raises:
        LotkinError: One of them was refused; nothing is recorded.
    """
    with store.recording() as recording, paused_collector():
        if isinstance(events, Sequence):
            ahead = events
        for start in range(0, len(ahead), LOOKED_UP):
            some = ahead[start : start + LOOKED_UP]
            recording.look_up_ids([str(event.id) for event in some])
            recording.look_up(name for event in some for name in event.names())
        return [record_one(recording, event, clock(), sender) for event in events]


def record_one(recording: Recording, event: Event, now: int, sender: Who | None = None) -> Recorded:
    """Record one event within a transaction that is open already."""
    known = recording.entry_by_id(str(event.id))
    if known is not None:
        return _recorded_before(recording, event, known)
    _refuse_filled_in(event)
    plan = recording.plan_number()
    in_force = recording.plan(plan) if plan else None
    shop = Shop(
        recording,
        Mode.REPORTED if event.reported else Mode.ASKED,
        at=event.at_us,
        plan=in_force,
        kind=event.kind,
        now=now,
        rights=rights_behind(in_force, event.by, sender),
    )
    takes_effect = check_who(shop, event, sender)
    placed = placed_in_time(shop, event)
    shop.at = placed.at_us
    completed = placed.complete(shop)
    if not takes_effect:
        completed = completed.but(lacks_right=True)
    elif _corrects(recording, completed):
        kept = tuple((c.code, m) for c in open_cases(recording) for m in members_of(recording, c))
        completed = completed.but(keeps_members=kept)
    completed = _held_with_its_material(shop, completed)
    entry = _entry(recording.head, event, completed, shop, plan)
    effects = effects_of(recording, completed, entry.seq, plan)
    recording.take(entry, effects)
    made = tuple(sorted(c for c, i in effects.draft.items.items() if i.event == entry.seq))
    return Recorded(entry.seq, entry.id, entry.kind, False, entry.breaches, made)


def _recorded_before(recording: Recording, event: Event, known: Entry) -> Recorded:
    """Say what became of an event when it came first.

    Raises:
        EventIdReused: What came under this id then was another event.
    """
    sent = digest(canonical(event.to_data()))
    # a sender may repeat what it sent, or what it has read of it since, spelled out
    if sent not in (known.sent, digest(canonical(known.data))):
        raise EventIdReused(known.id, known.seq)
    made = tuple(recording.made_by(known.seq))
    return Recorded(known.seq, known.id, known.kind, True, known.breaches, made)


def _held_with_its_material(shop: Shop, completed: Event) -> Event:
    """Let what an event makes be held where what it takes is, or where a rule says so."""
    reasons = shop.reasons_to_hold
    held = [breach.record for breach in shop.breaches if breach.rule == "held"]
    if held:
        reasons = [f"made from {held[0]}, which is held", *reasons]
    if reasons and completed.kind != "amend":
        return completed.but(inherits_hold="; ".join(reasons)[:LONGEST_REASON])
    return completed


def _entry(head: tuple[int, str], event: Event, completed: Event, shop: Shop, plan: int) -> Entry:
    """Give the journal row that follows the head: the event as sent, and as completed."""
    seq, previous = head
    data = completed.to_data()
    text = canonical(data)
    return chained(
        Entry(
            seq=seq + 1,
            id=str(event.id),
            kind=event.kind,
            at=shop.at,
            recorded_at=shop.now,
            station=event.station or "",
            by=event.by,
            reported=event.reported,
            data=data,
            sent=digest(text if completed is event else canonical(event.to_data())),
            plan=plan,
            breaches=tuple(shop.breaches),
            previous=previous,
            text=text,
        )
    )


def _refuse_filled_in(event: Event) -> None:
    """Refuse an event that says what is to be found from the record itself.

    Raises:
        BadEvent: It does.
    """
    sent = filled_in_sent(event)
    if sent:
        names = " and ".join(sent)
        raise BadEvent(
            f"{event.kind} {event.id}",
            f"{names} {'is' if len(sent) == 1 else 'are'} filled in when it is recorded, "
            "and cannot be sent",
            hint=f"leave {names} out",
        )


def _corrects(recording: Recording, event: Event) -> bool:
    """Tell whether an event changes what earlier ones brought forth; most mounts do not."""
    if event.kind not in CORRECTING:
        return False
    if event.kind != "mount":
        return True
    draft = Draft(recording)
    draft.begin(recording.head[0] + 1, event.at_us, 0)
    return bool(event.touches(draft))
