"""What happened to a unit: where it went and came back, what was changed in it or corrected."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.events import (
    Adopt,
    Amend,
    Dismantle,
    Pack,
    Return,
    Scrap,
    Ship,
    Swap,
    Unpack,
    Void,
)
from lotkin.core.values.places import End, Spot

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence

    from lotkin.core.events import Event
    from lotkin.core.events.units.swap import Removed
    from lotkin.core.genealogy.items import Item
    from lotkin.core.genealogy.view import Entry
    from lotkin.uses.asking.amended_events import AsRead
    from lotkin.uses.ports import Reading

RETURNED = "returned: "
"""How the hold of a piece that came back begins."""

__all__ = ["Changed", "Corrected", "Went", "changed", "corrected", "went"]


@dataclass(frozen=True, slots=True)
class Went:
    """A step on the way of a unit: `packed`, `unpacked`, `shipped`, `returned` or `scrapped`."""

    what: str
    event: int
    at: int
    state: str
    carton: str = ""
    shipment: str = ""
    customer: str = ""
    reference: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Changed:
    """What was taken out of a unit and put into it; neither for a repair that changed nothing.

    Attributes:
        removed: (code in the unit, its code since, position, where it went).
        added: (code, position).
    """

    what: str
    event: int
    at: int
    by: str
    state: str
    note: str
    removed: tuple[tuple[str, str, str, str], ...]
    added: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Corrected:
    """An amendment, a void, or a late report that changed what is behind a unit.

    Attributes:
        of: Numbers of the events that it corrected.
    """

    what: str
    event: int
    at: int
    by: str
    reason: str
    of: tuple[int, ...]


def went(as_read: AsRead, history: Iterable[Entry], codes: Collection[str]) -> list[Went]:
    """Follow a unit on its way, in order of the journal."""
    found: list[Went] = []
    for entry, event in as_read.events(history):
        step = _step(entry.seq, event, codes)
        if step is not None:
            found.append(step)
    return found


def _step(seq: int, event: Event, codes: Collection[str]) -> Went | None:
    at = event.at_us
    if isinstance(event, Pack):
        of = next((taken.item for taken in event.contents if taken.item in codes), None)
        return Went("packed", seq, at, of, event.carton) if of else None
    if isinstance(event, Unpack) and event.item in codes:
        return Went("unpacked", seq, at, event.item, event.carton)
    if isinstance(event, Ship):
        taken = next((t for t in (*event.contents, *event.inside) if t.item in codes), None)
        if taken is None:
            return None
        sent = (event.shipment, event.customer, event.reference)
        return Went("shipped", seq, at, taken.item, taken.within or "", *sent)
    if isinstance(event, Return) and event.item in codes:
        return Went(
            "returned",
            seq,
            at,
            event.item,
            event.within or "",
            customer=event.customer or "",
            reason=event.reason,
        )
    if isinstance(event, Scrap) and event.item in codes:
        return Went("scrapped", seq, at, event.item, reason=event.reason)
    return _adopted_step(seq, event, codes) if isinstance(event, Adopt) else None


def _adopted_step(seq: int, event: Adopt, codes: Collection[str]) -> Went | None:
    """Tell a step that somebody else recorded, by what it linked and posted."""
    moved = next((p for p in event.postings if p.item in codes and p.origin is not None), None)
    if moved is None:
        return None
    at, place = event.at_us, moved.destination
    kinds = {item.item_kind: item.code for item in event.items}
    if "shipment" in kinds:
        carton = moved.destination_within
        return Went("shipped", seq, at, moved.item, carton, kinds["shipment"], place)
    in_shop = "carton" in kinds or moved.origin == place
    if in_shop and moved.destination_within and not moved.origin_within:
        return Went("packed", seq, at, moved.item, moved.destination_within)
    if place == End.SCRAP:
        return Went("scrapped", seq, at, moved.item)
    back = next((h.reason for h in event.holds if h.reason.startswith(RETURNED)), "")
    if back and not event.items:
        carton, customer = moved.origin_within, moved.origin or ""
        reason = back.removeprefix(RETURNED)
        return Went("returned", seq, at, moved.item, carton, customer=customer, reason=reason)
    if moved.origin_within and not moved.destination_within:
        return Went("unpacked", seq, at, moved.item, moved.origin_within)
    return None


def changed(as_read: AsRead, history: Iterable[Entry]) -> list[Changed]:
    """List what was exchanged or repaired in a unit, in order of the journal."""
    found = []
    for entry, event in as_read.events(history):
        if isinstance(event, Swap):
            removed, added, what = event.remove, event.add, "swap"
        elif isinstance(event, Dismantle):
            removed, added, what = event.recovered, (), "dismantle"
        else:
            continue
        found.append(
            Changed(
                what,
                entry.seq,
                event.at_us,
                event.by,
                event.code or "",
                event.note,
                tuple((one.item, one.code or "", one.position, _kept(one)) for one in removed),
                tuple((one.item, one.position) for one in added),
            )
        )
    return found


def _kept(one: Removed) -> str:
    return str(Spot(one.place)) if one.place else one.end


def corrected(
    view: Reading,
    as_read: AsRead,
    behind: Mapping[str, Item],
    seqs: Collection[int],
    history: Sequence[Entry],
) -> list[Corrected]:
    """List the amendments, voids and late reports that changed what is behind a unit.

    Args:
        view: One state of the store.
        as_read: Its corrections.
        behind: All items behind the unit by code.
        seqs: Numbers of the events that all this and the links between come from.
        history: Events that the states of the unit had a part in, and changed its setups.
    """
    own = (entry.seq for entry in history)
    numbers = as_read.corrections_of({*seqs, *own, *(item.event for item in behind.values())})
    # a mounting is among these events only if it came late and linked something anew
    numbers |= {entry.seq for entry in history if entry.kind in ("amend", "void", "mount")}
    of: dict[int, list[int]] = {}
    for seq, amendments in as_read.amended.items():
        for number in amendments:
            of.setdefault(number, []).append(seq)
    for seq, number in as_read.voided.items():
        of.setdefault(number, []).append(seq)
    found = []
    for number in sorted(numbers):
        entry = view.entry(number)
        event = as_read.event(entry)
        reason = event.reason if isinstance(event, (Amend, Void)) else "recorded late"
        found.append(
            Corrected(
                entry.kind, number, entry.at, entry.by, reason, tuple(sorted(of.get(number, ())))
            )
        )
    return found
