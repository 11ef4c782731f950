"""A small works around a store, for tests to extend: each method makes one event.

What a test does not say is filled in: ids and times count up, everything is done by ANN. Times are
whole minutes since the first morning, so that a test can say `at=7`.
"""

from __future__ import annotations

import uuid
import weakref
from collections.abc import Iterable, Mapping, Sequence
from copy import copy
from typing import TYPE_CHECKING, TypeAlias

from sqlalchemy import select, text

from lotkin.core.events.reading import parse_event
from lotkin.core.values.instants import parse_instant, show_instant, to_us
from lotkin.store.all_tables import METADATA
from lotkin.store.store import Store
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.where import Question, where_from, where_used
from lotkin.uses.recording.load_plan import load_plan
from lotkin.uses.recording.record import Recorded, record
from lotkin.wiring import create_store
from tests.stores import fresh_store, twin_store

if TYPE_CHECKING:
    from lotkin.core.account.sheet import Account
    from lotkin.core.answers.rows import Row
__all__ = ["PLAN", "Data", "Works", "dump", "minute", "moment", "taken"]

Data: TypeAlias = "dict[str, object]"
Amount: TypeAlias = "int | str | None"
Lots: TypeAlias = "str | Data | Mapping[str, Amount] | Iterable[str | Data]"
"""What is taken: a code, or codes with quantities (None: all there is), or the full data."""

FIRST_MORNING = to_us(parse_instant("2026-03-02T06:00:00Z"))
US_PER_MINUTE = 60_000_000

PLAN = """
place = [
  {code = "SHELF", name = "Shelf", kind = "shelf"},
  {code = "FLOOR", name = "Shop floor", kind = "station"},
  {code = "ROOM-1", name = "First room", kind = "station"},
  {code = "ROOM-2", name = "Second room", kind = "station"},
  {code = "RED-BOX", name = "Locked box", kind = "quarantine"},
]
supplier = [{code = "MILL", name = "Mill"}, {code = "ANODISER", name = "Anodiser"}]
customer = [{code = "CLINIC", name = "Clinic"}, {code = "HOSPITAL", name = "Hospital"}]
part = [
  {code = "BAR", name = "Bar", revision = "A", kind = "bar-lot", unit = "m"},
  {code = "POWDER", name = "Powder", revision = "A", kind = "powder-lot", unit = "kg"},
  {code = "SCREW", name = "Screw", revision = "A", kind = "purchased-lot", unit = "pcs"},
  {code = "TIP", name = "Tip", revision = "A", kind = "machined-lot", unit = "pcs"},
  {code = "PUMP", name = "Pump", revision = "A", kind = "unit", unit = "pcs", test = [
    {name = "Leak", unit = "kPa", readings = 1, max = 1}], need = [
    {part = "TIP", per = 1}, {part = "SCREW", per = 2}]},
  {code = "CLAMP", name = "Clamp", revision = "A", kind = "unit", unit = "pcs", need = [
    {part = "SCREW", per = 4}]},
]
bench = [
  {code = "B1", name = "First bench", place = "ROOM-1", position = [
    {code = "P1", part = "TIP", per = 1}, {code = "P2", part = "SCREW", per = 2}]},
  {code = "B2", name = "Second bench", place = "ROOM-2", position = [
    {code = "P1", part = "TIP", per = 1}, {code = "P2", part = "SCREW", per = 2}]},
]

[works]
name = "Small works"
timezone = "Europe/Zurich"
"""
"""A plan of all places, parts and benches that tests name; without it any will do."""


def minute(number: int) -> int:
    """Give a minute since the first morning in microseconds since 1970."""
    return FIRST_MORNING + number * US_PER_MINUTE


def moment(number: int) -> str:
    """Write a minute since the first morning as an event does."""
    return show_instant(minute(number))


def taken(lots: Lots, **more: object) -> list[Data]:
    """Write what is taken as an event does; `more` is said of each."""
    if isinstance(lots, str):
        lots = [lots]
    if isinstance(lots, Mapping):
        if "item" in lots:
            return [dict(lots)]
        lots = [{"item": item, "quantity": quantity} for item, quantity in lots.items()]
    rows = [{"item": lot} if isinstance(lot, str) else dict(lot) for lot in lots]
    rows = [{key: value for key, value in row.items() if value is not None} for row in rows]
    return [{**row, **more} for row in rows]


def dump(store: Store) -> dict[str, list[tuple[object, ...]]]:
    """Give all rows of all tables, in order, without their running numbers, which say nothing."""
    with store.engine.connect() as connection:
        return {
            table.name: sorted(
                (
                    tuple(row)
                    for row in connection.execute(
                        select(*(column for column in table.columns if column.name != "number"))
                    )
                ),
                key=repr,
            )
            for table in METADATA.sorted_tables
        }


class Works:
    """A works with a store of its own.

    Attributes:
        minute: The time; each event that says nothing else is one minute after the one before.
        log: What became of all events recorded so far, in order.
        sent: These events as they were sent.
    """

    def __init__(self, url: str = "", *, plan: str = "") -> None:
        self.store = create_store(url) if url else fresh_store()
        weakref.finalize(self, self.store.source.close)
        self.minute = self.latest = 0
        self.ids = 0
        self.log: list[Recorded] = []
        self.sent: list[Data] = []
        if plan:
            self.plan(plan)

    def plan(self, text: str) -> None:
        """Load a shop plan; it is in force at once."""
        load_plan(self.store, text, "plan.toml", by="ANN", clock=self.clock)

    def twin(self) -> Works:
        """Give a works of its own in which the same has happened; quicker than doing it again."""
        twin = copy(self)
        twin.store = twin_store(self.store)
        weakref.finalize(twin, twin.store.source.close)
        twin.log, twin.sent = list(self.log), list(self.sent)
        return twin

    def clock(self) -> int:
        """Tell when an event is recorded: half a minute after the latest that happened."""
        return FIRST_MORNING + max(self.minute, self.latest) * US_PER_MINUTE + US_PER_MINUTE // 2

    # --- recording

    def data(self, kind: str, **fields: object) -> Data:
        """Make an event as data; whole numbers given as times are minutes."""
        self.ids += 1
        self.minute += 1
        row: Data = {"id": str(uuid.UUID(int=self.ids)), "kind": kind, "by": "ANN"}
        fields.setdefault("at", self.minute)
        for name, value in fields.items():
            if name in ("at", "started") and isinstance(value, int):
                row[name] = moment(value)
                self.latest = max(self.latest, value)
            elif value is not None:
                row[name] = value
        return row

    def send_in(self, data: Data) -> Recorded:
        """Record an event given as data."""
        recorded = record(self.store, [parse_event(data, "test")], self.clock)[0]
        if not recorded.repeated:
            self.log.append(recorded)
            self.sent.append(data)
        return recorded

    def do(self, kind: str, **fields: object) -> Recorded:
        """Make and record an event."""
        return self.send_in(self.data(kind, **fields))

    # --- events

    def receive(self, code: str, quantity: object = 100, **more: object) -> Recorded:
        """Receive a lot of screws, unless told otherwise."""
        fields: Data = {"item_kind": "purchased-lot", "part": "SCREW", "place": "SHELF"}
        return self.do("receive", code=code, quantity=quantity, **{**fields, **more})

    def powder(self, code: str, quantity: object = 10, **more: object) -> Recorded:
        """Receive powder, in kilograms."""
        fields: Data = {"item_kind": "powder-lot", "part": "POWDER", "unit": "kg"}
        return self.receive(code, quantity, **{**fields, **more})

    def bar(self, code: str, quantity: object = 10, *, heat: str = "", **more: object) -> Recorded:
        """Receive bar, in metres, of a heat if one is named."""
        fields: Data = {"item_kind": "bar-lot", "part": "BAR", "unit": "m", "supplier": "MILL"}
        if heat:
            fields["source"] = {"kind": "heat", "number": heat}
        return self.receive(code, quantity, **{**fields, **more})

    def resource(self, code: str, kind: str = "tool", **more: object) -> Recorded:
        """Begin a period of a resource."""
        return self.receive(code, 1, **{"item_kind": kind, "part": kind.upper(), **more})

    def make(
        self,
        outputs: Mapping[str, object],
        inputs: Lots = (),
        *,
        run: str = "",
        started: str | None = None,
        resources: Sequence[str] = (),
        **more: object,
    ) -> Recorded:
        """Make lots of tips on the floor; an output is a quantity or its full data."""
        said = [
            {"code": code, "item_kind": "machined-lot", "part": "TIP", "place": "FLOOR"}
            | (dict(out) if isinstance(out, Mapping) else {"quantity": out})
            for code, out in outputs.items()
        ]
        if run:
            more["run"] = {
                "code": run,
                "run_kind": "machining-run",
                "started": started,
                "resources": list(resources),
            }
        return self.do("make", inputs=taken(inputs), outputs=said, **more)

    def pool(self, code: str, inputs: Lots, **more: object) -> Recorded:
        """Tip lots together."""
        return self.do("pool", code=code, inputs=taken(inputs), **more)

    def blend(self, code: str, inputs: Lots, **more: object) -> Recorded:
        """Blend powders."""
        return self.do("blend", code=code, inputs=taken(inputs), **more)

    def split(self, item: str, parts: Mapping[str, object], **more: object) -> Recorded:
        """Split a lot into parts."""
        said = [{"code": code, "quantity": quantity} for code, quantity in parts.items()]
        return self.do("split", item=item, parts=said, **more)

    def send(self, batch: str, inputs: Lots, **more: object) -> Recorded:
        """Send lots to the anodiser."""
        return self.do(
            "send", **{"supplier": "ANODISER", **more}, batch=batch, inputs=taken(inputs)
        )

    def take_back(
        self, batch: str, returns: Mapping[str, tuple[int, Lots]] | None = None, **more: object
    ) -> Recorded:
        """Take lots back: code -> (quantity, of which lots sent)."""
        said = [
            {
                "output": {
                    "code": code,
                    "item_kind": "treated-lot",
                    "part": "TIP",
                    "quantity": quantity,
                    "place": "SHELF",
                },
                "of": taken(lots),
            }
            for code, (quantity, lots) in (returns or {}).items()
        ]
        return self.do("take-back", batch=batch, returns=said, **more)

    def mount(
        self, positions: Mapping[str, str | Data | None], bench: str = "B1", **more: object
    ) -> Recorded:
        """Mount lots at the positions of a bench; None empties one."""
        said: list[Data] = []
        for position, lot in positions.items():
            item: Data = {"item": lot} if isinstance(lot, str) else dict(lot or {})
            said.append({"position": position, **item})
        return self.do("mount", bench=bench, positions=said, **more)

    def build(self, serial: str, bench: str | None = "B1", **more: object) -> Recorded:
        """Build a pump from what is mounted, and from `inputs` of its own."""
        more["inputs"] = taken(more.pop("inputs", ()))  # type: ignore[arg-type]
        return self.do("build", **{"part": "PUMP", **more}, serial=serial, bench=bench)

    def swap(
        self, unit: str, remove: Iterable[Data] = (), add: Lots = (), **more: object
    ) -> Recorded:
        """Exchange components of a unit."""
        return self.do("swap", unit=unit, remove=list(remove), add=taken(add), **more)

    def inspect(self, item: str, code: str, result: str = "accepted", **more: object) -> Recorded:
        """Inspect a lot or a unit."""
        if result != "accepted":
            more.setdefault("reason", "burr")
        return self.do("inspect", item=item, inspection=code, result=result, **more)

    def test(self, unit: str, reading: object = 0, **more: object) -> Recorded:
        """Test a unit for leaks; it passes up to 1 kPa."""
        fields: Data = {"name": "Leak", "readings": [reading], "max": 1}
        return self.do("test", unit=unit, **{**fields, **more})

    def pack(self, carton: str, contents: Lots, **more: object) -> Recorded:
        """Pack pieces into a carton on the shelf."""
        return self.do(
            "pack", **{"place": "SHELF", **more}, carton=carton, contents=taken(contents)
        )

    def ship(self, shipment: str, contents: Lots, **more: object) -> Recorded:
        """Ship to the clinic."""
        fields: Data = {"customer": "CLINIC", **more}
        return self.do("ship", **fields, shipment=shipment, contents=taken(contents))

    def amend(self, event: Recorded, **patch: object) -> Recorded:
        """Read an event differently; a time is given in minutes."""
        return self.amend_all({event.id: patch})

    def amend_all(self, patches: Mapping[str, Mapping[str, object]], **more: object) -> Recorded:
        """Read several events differently, in one event."""
        changes = [
            {
                "event": event,
                "patch": {
                    key: moment(value)
                    if key in ("at", "started") and isinstance(value, int)
                    else value
                    for key, value in patch.items()
                },
            }
            for event, patch in patches.items()
        ]
        return self.do("amend", reason="was misread", changes=changes, **more)

    def void(self, event: Recorded, **more: object) -> Recorded:
        """Say that an event did not take place."""
        return self.do("void", event=event.id, reason="did not happen", **more)

    # --- asking

    def used(self, code: str, question: Question | None = None) -> dict[str, Row]:
        """Give what an item went into, by code."""
        return {row.code: row for row in where_used(self.store, code, question or Question()).items}

    def origin(self, code: str, question: Question | None = None) -> dict[str, Row]:
        """Give what is behind an item, by code."""
        return {row.code: row for row in where_from(self.store, code, question or Question()).items}

    def accounts(self, *codes: str, as_of: int | None = None) -> tuple[Account, ...]:
        """Account for the quantity of items."""
        return contain(self.store, list(codes), Question(as_of=as_of)).accounts

    def lines(self, *codes: str) -> dict[str, float]:
        """Account for the quantity of items of one unit: place or end -> quantity in all."""
        (account,) = self.accounts(*codes)
        lines: dict[str, float] = {}
        for line in account.lines:
            lines[line.where] = lines.get(line.where, 0.0) + line.quantity
        return lines

    def stock(self, code: str) -> dict[str, int | float]:
        """Tell what of an item lies where, ends included: `PLACE` or `PLACE (CARTON)`."""
        with self.store.reading() as view:
            return {str(spot): micro / 1_000_000 for spot, micro in view.stock(code).items()}

    def knows(self, event: str) -> bool:
        """Tell whether an event of this id is recorded."""
        with self.store.reading() as view:
            return view.entry_by_id(event) is not None

    def head(self) -> int:
        """Tell the journal position."""
        with self.store.engine.connect() as connection:
            return int(connection.execute(text("SELECT COUNT(*) FROM journal")).scalar_one())
