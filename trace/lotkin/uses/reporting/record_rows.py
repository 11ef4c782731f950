"""The whole record, event by event, as rows that a spreadsheet can sort."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.values.places import Spot
from lotkin.uses.asking.amended_events import AsRead
from lotkin.uses.reporting.record_values import said_by_event

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.genealogy.items import Item, Link, Movement
    from lotkin.core.genealogy.view import Entry
    from lotkin.uses.exchange.export_parquet import Posted
    from lotkin.uses.reporting.record_values import Said

__all__ = ["RecordRow", "record_rows"]

NOWHERE = Spot("")
FAR_PAST, FAR_FUTURE = -(2**62), 2**62


class RecordRow(NamedTuple):
    """One thing that an event did to one item.

    The columns follow the key data of tracking events: who, what, how much, where, when, and the
    document that it refers to. Model: 21 CFR 1 subpart S (traceability records), read as a list of
    questions; it is about food, and nothing here is claimed to satisfy it.

    Attributes:
        event: Number of the event.
        kind: Of the event.
        happened, recorded: Microseconds UTC; `happened` as first sent.
        is_reported: Told after the fact.
        by, station: Who, and where from.
        did: `made`, `used`, `moved`, or `about` for an event that did nothing to an item.
        item, item_kind, part: What.
        quantity, unit: How much, in millionths; None for not known.
        part_name: Of the part, in the plan.
        origin, origin_within, destination, destination_within: Places, and the carton or batch.
        into: What it was used for.
        supplier, supplier_lot: Of an item received.
        recipient, recipient_name: Whom it was shipped or sent to.
        delivery_note, order, certificate, files, traveller, case: See `Said`.
        result: What was found or decided.
        breaches: Rules that were broken, with semicolons.
    """

    event: int
    kind: str
    happened: int
    recorded: int
    is_reported: bool
    by: str
    station: str
    did: str
    item: str = ""
    item_kind: str = ""
    part: str = ""
    part_name: str = ""
    quantity: int | None = None
    unit: str = ""
    origin: str = ""
    origin_within: str = ""
    destination: str = ""
    destination_within: str = ""
    into: str = ""
    supplier: str = ""
    supplier_lot: str = ""
    recipient: str = ""
    recipient_name: str = ""
    delivery_note: str = ""
    order: str = ""
    certificate: str = ""
    files: str = ""
    traveller: str = ""
    case: str = ""
    result: str = ""
    breaches: str = ""


def record_rows(
    view: Posted, start: int | None = None, end: int | None = None
) -> Iterator[RecordRow]:
    """Yield the record in the order of the journal, as it reads today.

    Args:
        view: One state of the store.
        start, end: Microseconds UTC; only what happened in that time, as first sent.
    """
    events = _Events(view)
    first, last = FAR_PAST if start is None else start, FAR_FUTURE if end is None else end
    for entry in view.entries():
        if first <= entry.at <= last:
            yield from events.rows(entry)


class _Events:
    """What each event did."""

    def __init__(self, view: Posted) -> None:
        self._view = view
        number = view.plan_number()
        self._plan = view.plan(number) if number else None
        self._as_read = AsRead(view)
        self._items: dict[str, Item] = {}
        self._made: dict[int, list[Item]] = defaultdict(list)
        for item in view.all_items():
            self._items[item.code] = item
            self._made[item.event].append(item)
        self._links: dict[int, list[Link]] = defaultdict(list)
        for link in view.all_links():
            self._links[link.event].append(link)
        self._moves: dict[int, list[Movement]] = defaultdict(list)
        for move in view.all_movements():
            self._moves[move.event].append(move)

    def rows(self, entry: Entry) -> Iterator[RecordRow]:
        """Yield the rows of an event: at least one, and one for each item its result is about."""
        said = said_by_event(entry.kind, self._as_read.data(entry))
        if entry.seq in self._as_read.voided:
            said = said._replace(result=f"voided by event {self._as_read.voided[entry.seq]}")
        plain = self._row(entry, said, "about")
        done = [self._about(row, self._items.get(row.item)) for row in self._done(entry, plain)]
        about = [
            self._about(plain._replace(item=code), self._items.get(code)) for code in said.subjects
        ]
        if about:
            done = [row._replace(result="") for row in done]
        yield from [*done, *about] or [plain]

    def _done(self, entry: Entry, plain: RecordRow) -> Iterator[RecordRow]:
        moves = self._moves[entry.seq]
        put = {move.item: move.destination for move in moves if move.origin is None}
        for item in self._made[entry.seq]:
            place, within = put.get(item.code, NOWHERE)
            yield plain._replace(
                did="made",
                item=item.code,
                quantity=item.quantity,
                destination=place,
                destination_within=within,
                supplier=item.supplier,
                supplier_lot=item.supplier_lot,
            )
        for link in self._links[entry.seq]:
            yield plain._replace(
                did="used", item=link.parent, quantity=link.quantity, into=link.child
            )
        for move in moves:
            if move.origin is not None:
                yield plain._replace(
                    did="moved",
                    item=move.item,
                    quantity=move.quantity,
                    origin=move.origin.place,
                    origin_within=move.origin.within,
                    destination=move.destination.place,
                    destination_within=move.destination.within,
                )

    def _about(self, row: RecordRow, item: Item | None) -> RecordRow:
        """Say what the item of a row is."""
        if item is None:
            return row
        plan = self._view.plan(item.plan) if item.plan else self._plan
        found = (each.part(item.part) for each in (self._plan, plan) if each is not None)
        part = next(filter(None, found), None)
        return row._replace(
            item_kind=item.kind,
            part=item.part,
            part_name=part.name if part is not None else "",
            unit=item.unit,
        )

    def _row(self, entry: Entry, said: Said, did: str) -> RecordRow:
        place = self._plan.place(said.recipient) if self._plan is not None else None
        return RecordRow(
            entry.seq,
            entry.kind,
            entry.at,
            entry.recorded_at,
            entry.reported,
            entry.by,
            entry.station,
            did,
            recipient=said.recipient,
            recipient_name=place.name if place is not None else "",
            delivery_note=said.delivery_note,
            order=said.order,
            certificate=said.certificate,
            files=said.files,
            traveller=said.traveller,
            case=said.case,
            result=said.result,
            breaches="; ".join(breach.message for breach in entry.breaches),
        )
