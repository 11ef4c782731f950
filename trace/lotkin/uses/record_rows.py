"""The whole record, event by event, as rows that a spreadsheet can sort."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.items import Item, Link, Movement
    from lotkin.core.places import Spot
    from lotkin.core.view import Entry
    from lotkin.uses.export_parquet import Posted

__all__ = ["RecordRow", "record_rows"]

REFERENCES = ("reference", "delivery_note", "order", "certificate", "document", "source")
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
        origin, destination: Places, with the carton or batch.
        into: What it was used for.
        supplier, supplier_lot: Of an item received.
        reference: Document that the event names; "" for none.
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
    quantity: int | None = None
    unit: str = ""
    origin: str = ""
    destination: str = ""
    into: str = ""
    supplier: str = ""
    supplier_lot: str = ""
    reference: str = ""
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
        """Yield the rows of an event: at least one."""
        found = [*self._of(entry)]
        yield from found or [self._row(entry, "about")]

    def _of(self, entry: Entry) -> Iterator[RecordRow]:
        moves = self._moves[entry.seq]
        put = {move.item: move.destination for move in moves if move.origin is None}
        for item in self._made[entry.seq]:
            row = self._row(entry, "made", item.code)
            yield row._replace(
                quantity=item.quantity,
                destination=_place(put.get(item.code)),
                supplier=item.supplier,
                supplier_lot=item.supplier_lot,
            )
        for link in self._links[entry.seq]:
            row = self._row(entry, "used", link.parent)
            yield row._replace(quantity=link.quantity, into=link.child)
        for move in moves:
            if move.origin is not None:
                row = self._row(entry, "moved", move.item)
                yield row._replace(
                    quantity=move.quantity,
                    origin=_place(move.origin),
                    destination=_place(move.destination),
                )

    def _row(self, entry: Entry, did: str, code: str = "") -> RecordRow:
        item = self._items.get(code)
        said = (str(entry.data[name]) for name in REFERENCES if entry.data.get(name))
        return RecordRow(
            entry.seq,
            entry.kind,
            entry.at,
            entry.recorded_at,
            entry.reported,
            entry.by,
            entry.station,
            did,
            code,
            item.kind if item is not None else "",
            item.part if item is not None else "",
            unit=item.unit if item is not None else "",
            reference=next(said, "")[:200],
            breaches="; ".join(breach.message for breach in entry.breaches),
        )


def _place(spot: Spot | None) -> str:
    if spot is None:
        return ""
    return f"{spot.place} in {spot.within}" if spot.within else spot.place
