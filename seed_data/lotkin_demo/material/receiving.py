"""Goods receiving: everything bought comes in as lots with the supplier's own lot behind them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import timedelta
from decimal import Decimal
from functools import partial
from typing import TYPE_CHECKING

from lotkin.core.certificates.compared import needs_values
from lotkin_demo.machining.inspection import judge
from lotkin_demo.material.receiving_stories import (
    BESIDES,
    HELD,
    LATE_HEAT,
    SAME_AS_BEFORE,
    SCANNED_TWICE,
)
from lotkin_demo.shop_floor import instant

if TYPE_CHECKING:
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["BOUGHT", "Bought", "Receiving"]


@dataclass(frozen=True, slots=True)
class Bought:
    """Something that is ordered again when little of it is left.

    Attributes:
        kind: Kind of the lots that come.
        prefix: Of the codes given at receiving.
        lot: Quantity of one delivery.
        low: Quantity at which it is ordered.
        place: Where it is put.
        source: `heat` or `source-lot`.
    """

    part: str
    kind: str
    prefix: str
    supplier: str
    lot: Decimal
    low: Decimal
    place: str = "STORE"
    source: str = "source-lot"


def _bar(part: str, prefix: str) -> Bought:
    return Bought(part, "bar-lot", prefix, "TORVIK", Decimal(15), Decimal(10), "RACK", "heat")


def _small(part: str, prefix: str, supplier: str, lot: int, low: int) -> Bought:
    return Bought(part, "purchased-lot", prefix, supplier, Decimal(lot), Decimal(low))


BOUGHT = (
    _bar("BAR-CW614N-8", "BRASS"),
    _bar("BAR-CW004A-8", "COPPER"),
    _bar("BAR-11SMNPB30-8", "STEEL"),
    Bought("BILLET-6082", "bar-lot", "BILLET", "ANNING", Decimal(120), Decimal(60), "RACK", "heat"),
    Bought("PA12-GF", "powder-lot", "POWDER", "GRAUWALD", Decimal(20), Decimal(6), "POWDER"),
    Bought("DYE-BLACK", "purchased-lot", "DYE", "UMBER", Decimal(1), Decimal("0.3"), "POWDER"),
    replace(_small("LEVER-BLANK", "BLANK", "BRENNICK", 140, 20), source="heat"),
    _small("GEAR-SOFT", "GSOFT", "ZAHNMOOR", 150, 20),
    _small("PIN", "PIN", "FALLOW", 500, 260),
    _small("SCREW", "SCREW", "FALLOW", 1500, 700),
    _small("ORING", "ORING", "MIRREL", 400, 260),
    _small("SPRING", "SPRING", "QUILLON", 250, 251),
    _small("HOSE", "HOSE", "MIRREL", 150, 110),
)
MOTORS_IN_A_DELIVERY = 50
FEW_MOTORS = 45


class Receiving:
    """Orders what runs low and receives it some days later."""

    def __init__(self, floor: ShopFloor) -> None:
        self.floor = floor
        self.ordered: set[str] = set()
        self.notes = 0
        self.last_number: dict[str, str] = {}

    def work(self) -> None:
        """Look through the shelves and order."""
        for bought in BOUGHT:
            if bought.part not in self.ordered and self._is_low(bought):
                self._order(bought)
        if "MOTOR" not in self.ordered and self.floor.shelves.total("MOTOR", "STORE") < FEW_MOTORS:
            self.ordered.add("MOTOR")
            self.floor.later(self.floor.rng.randint(4, 8), self.receive_motors)

    def _is_low(self, bought: Bought) -> bool:
        return self.floor.shelves.total(bought.part, bought.place) < bought.low

    def _order(self, bought: Bought) -> None:
        self.ordered.add(bought.part)
        days = self.floor.rng.randint(3, 8)
        self.floor.later(days, partial(self.receive, bought))

    def receive(self, bought: Bought) -> str:
        """Receive one delivery, with whatever is told of it in `receiving_stories`."""
        floor = self.floor
        code = floor.code(bought.prefix)
        number = self._number(bought)
        if code in SAME_AS_BEFORE:
            number = self.last_number[bought.part]
            floor.note(sources_in_two_deliveries=(*floor.works.sources_in_two_deliveries, code))
        self.last_number[bought.part] = number
        source = {"kind": bought.source, "number": number}
        note = self._delivery_note()
        late = code == LATE_HEAT
        event = self._put_away(
            bought,
            code,
            delivery_note=note,
            source=None if late else source,
            certificate=None if code in HELD else self._certificate(bought),
            compared_by=None if code in HELD else self._compared_by(bought),
            due=self._due(bought),
            hold=HELD.get(code),
        )
        self.ordered.discard(bought.part)
        if late:
            floor.note(lot_with_a_late_heat=code)
            floor.later(10, partial(self._add_heat, event, source))
        if code in HELD:
            floor.shelves.set_aside(code)
            floor.later(3, partial(self._accept, code))
        if code in BESIDES:
            self.receive(bought)
        if code == SCANNED_TWICE:
            self._scan_again(bought, source, note)
        return code

    def _certificate(self, bought: Bought) -> str | None:
        part = self.floor.plan.part(bought.part)
        return None if part is None else part.certificate

    def _compared_by(self, bought: Bought) -> str | None:
        """Name who has compared the values on the certificate, where one with values is asked."""
        part = self.floor.plan.part(bought.part)
        return "mara" if part is not None and needs_values(part.certificate) else None

    def _due(self, bought: Bought) -> str | None:
        part = self.floor.plan.part(bought.part)
        if part is None or part.shelf_life_days is None:
            return None
        return instant(self.floor.now + timedelta(days=part.shelf_life_days))

    def _put_away(self, bought: Bought, code: str, **fields: object) -> str:
        said = {
            "code": code,
            "item_kind": bought.kind,
            "part": bought.part,
            "quantity": str(bought.lot),
            "place": bought.place,
            "supplier": bought.supplier,
            **fields,
        }
        self.floor.shelves.put(code, bought.part, bought.place, bought.lot)
        return self.floor.record("receive", "mara", said)

    def _delivery_note(self) -> str:
        """Number the delivery notes; no supplier of the demo writes two alike."""
        self.notes += 1
        return f"DN-{self.floor.now:%y%m%d}-{self.notes:04}"

    def _add_heat(self, event: str, source: dict[str, str]) -> None:
        self.floor.record(
            "amend",
            "quinn",
            reason="the heat was not read off the certificate on receipt",
            changes=[{"event": event, "patch": {"source": source}}],
        )

    def _accept(self, code: str) -> None:
        judge(self.floor, code, "accepted", reason="papers are complete now")
        self.floor.shelves.release(code)
        self.floor.note(held_on_arrival=(*self.floor.works.held_on_arrival, code))

    def _scan_again(self, bought: Bought, source: dict[str, str], note: str) -> None:
        floor = self.floor
        twice = floor.code(bought.prefix)
        event = self._put_away(bought, twice, delivery_note=note, source=source)
        floor.shelves.take(twice, bought.place, bought.lot)
        floor.wait(30)
        floor.record("void", "mara", event=event, reason="the delivery note was scanned twice")
        floor.note(voided_receipt=twice)

    def _number(self, bought: Bought) -> str:
        letter = "H" if bought.source == "heat" else "L"
        return f"{letter}{self.floor.rng.randint(100_000, 999_999)}"

    def receive_motors(self) -> None:
        """Receive a box of motors, each by its serial."""
        floor = self.floor
        number = f"TM{floor.rng.randint(10_000, 99_999)}"
        delivery_note = self._delivery_note()
        for _ in range(MOTORS_IN_A_DELIVERY):
            serial = floor.code("SM24", 5)
            floor.record(
                "receive",
                "mara",
                minutes=0.2,
                code=serial,
                serial=serial,
                item_kind="purchased-lot",
                part="MOTOR",
                place="STORE",
                supplier="TIDERUN",
                delivery_note=delivery_note,
                source={"kind": "source-lot", "number": number},
            )
            floor.shelves.put(serial, "MOTOR", "STORE", 1)
        self.ordered.discard("MOTOR")
