"""Packing and dispatch: twelve pumps to a carton, cartons to a dozen customers, spares as lots."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from string import ascii_uppercase
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from lotkin_demo.assembly.pumps import Unit
    from lotkin_demo.assembly.testing import Testing
    from lotkin_demo.shop_floor import EventData, ShopFloor

__all__ = ["Carton", "Dispatch"]

IN_A_CARTON = 12
SPARES = (("TIP", 20), ("ORING", 40), ("HOSE", 10), ("COVER", 4))
DAYS_BETWEEN_SPARES = 23
UNPACKED_AFTER = 31


@dataclass(frozen=True, slots=True)
class Carton:
    """A carton in the works."""

    code: str
    units: tuple[Unit, ...]


class Dispatch:
    """Packs what has passed and ships what is ordered.

    Attributes:
        ready: Cartons that stand at packing.
        on_shipped: Is told every unit that leaves.
    """

    def __init__(self, floor: ShopFloor, testing: Testing) -> None:
        self.floor = floor
        self.testing = testing
        self.ready: list[Carton] = []
        self.packed = 0
        self._splits: Counter[str] = Counter()
        self.on_shipped: Callable[[Unit], object] = lambda _: None
        self.customers = [customer.code for customer in floor.plan.customers]

    def work(self) -> None:
        """Pack full cartons; ship one or two when there are more than two."""
        while len(self.testing.passed) >= IN_A_CARTON:
            units = tuple(self.testing.passed[:IN_A_CARTON])
            del self.testing.passed[:IN_A_CARTON]
            self.pack(units)
        if len(self.ready) > 2:
            number = self.floor.rng.randint(1, 2)
            self.ship(self.ready[:number])
            del self.ready[:number]
        if self.packed == UNPACKED_AFTER:
            self._exchange_a_unit()
        if self.floor.day > 60 and self.floor.day % DAYS_BETWEEN_SPARES == 0:
            self._sell_spares()

    def pack(self, units: tuple[Unit, ...]) -> Carton:
        """Pack units into a new carton."""
        code = self._record_pack([{"item": unit.serial} for unit in units], part="DP40")
        carton = Carton(code, units)
        self.packed += 1
        if self.floor.works.swapped_unit in [unit.serial for unit in units]:
            self.floor.note(second_carton=carton.code)
        self.ready.append(carton)
        return carton

    def _record_pack(self, contents: list[dict[str, object]], *, part: str) -> str:
        carton = self.floor.code("CTN", 4)
        said: EventData = {"carton": carton, "place": "PACK", "part": part, "contents": contents}
        self.floor.record("pack", "dora", said, station="PACK")
        return carton

    def _exchange_a_unit(self) -> None:
        """Take a unit with a scratched cover out of the last carton; it goes into the next one."""
        floor = self.floor
        self.packed += 1
        carton = self.ready.pop()
        unit, *others = carton.units
        floor.record(
            "unpack",
            "dora",
            station="PACK",
            carton=carton.code,
            item=unit.serial,
            note="scratch on the cover, polished out",
        )
        floor.note(unpacked_unit=unit.serial)
        self.ready.append(Carton(carton.code, tuple(others)))
        self.testing.passed.insert(0, unit)

    def ship(self, cartons: list[Carton]) -> None:
        """Ship cartons to one of the customers."""
        self._record_ship([{"item": carton.code} for carton in cartons])
        for carton in cartons:
            for unit in carton.units:
                self.on_shipped(unit)

    def _record_ship(self, contents: list[dict[str, object]]) -> None:
        floor = self.floor
        floor.record(
            "ship",
            "dora",
            station="DISPATCH",
            shipment=floor.code("SHP", 4),
            customer=floor.rng.choice(self.customers),
            reference=f"ORDER-{floor.rng.randint(20_000, 29_999)}",
            contents=contents,
        )

    def _sell_spares(self) -> None:
        """Sell some pieces of a lot: tips as a lot of their own, hoses in the open."""
        part, pieces = SPARES[self.floor.day // DAYS_BETWEEN_SPARES % len(SPARES)]
        lots = self.floor.shelves.lots(part, "STORE")
        if not lots or self.floor.shelves.on_hand(lots[0], "STORE") < pieces:
            return
        self.floor.shelves.take(lots[0], "STORE", pieces)
        content: dict[str, object] = {"item": lots[0], "quantity": pieces, "place": "STORE"}
        if part == "TIP":
            content = {"item": self._split(lots[0], pieces)}
        if part == "HOSE":
            self._record_ship([content])
        else:
            carton = self._record_pack([content], part=part)
            self._record_ship([{"item": carton}])

    def _split(self, lot: str, pieces: int) -> str:
        """Divide a lot: spares are sold under a letter of their own."""
        code = f"{lot}{ascii_uppercase[self._splits[lot]]}"
        self._splits[lot] += 1
        part = {"code": code, "quantity": pieces, "place": "PACK"}
        self.floor.record("split", "dora", item=lot, place="STORE", parts=[part])
        return code
