"""Goods receiving: everything bought comes in as lots with the supplier's own lot behind them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

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
    _small("SPRING", "SPRING", "QUILLON", 300, 150),
    _small("HOSE", "HOSE", "MIRREL", 150, 110),
)
MOTORS_IN_A_DELIVERY = 50
FEW_MOTORS = 45


class Receiving:
    """Orders what runs low and receives it some days later."""

    def __init__(self, floor: ShopFloor) -> None:
        self.floor = floor
        self.ordered: set[str] = set()
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
        self.floor.later(days, lambda: self.receive(bought))

    def receive(self, bought: Bought) -> str:
        """Receive one delivery; now and then it is the rest of the lot or heat of the last one."""
        floor = self.floor
        again = bought.part in self.last_number and floor.rng.random() < 0.15
        number = self.last_number[bought.part] if again else self._number(bought)
        self.last_number[bought.part] = number
        code = floor.code(bought.prefix)
        floor.record(
            "receive",
            "mara",
            station=None,
            code=code,
            item_kind=bought.kind,
            part=bought.part,
            quantity=str(bought.lot),
            place=bought.place,
            supplier=bought.supplier,
            source={"kind": bought.source, "number": number},
        )
        floor.shelves.put(code, bought.part, bought.place, bought.lot)
        self.ordered.discard(bought.part)
        return code

    def _number(self, bought: Bought) -> str:
        letter = "H" if bought.source == "heat" else "L"
        return f"{letter}{self.floor.rng.randint(100_000, 999_999)}"

    def receive_motors(self) -> None:
        """Receive a box of motors, each by its serial."""
        floor = self.floor
        number = f"TM{floor.rng.randint(10_000, 99_999)}"
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
                source={"kind": "source-lot", "number": number},
            )
            floor.shelves.put(serial, "MOTOR", "STORE", 1)
        self.ordered.discard("MOTOR")
