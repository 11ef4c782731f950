"""Packing and dispatch: twelve pumps to a carton, cartons to a dozen customers, spares as lots."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin_demo.assembly import Unit
    from lotkin_demo.shop_floor import ShopFloor
    from lotkin_demo.testing import Testing

__all__ = ["Carton", "Dispatch"]

IN_A_CARTON = 12
SPARES = (("TIP", 20), ("ORING", 40), ("HOSE", 10), ("COVER", 4))
DAYS_BETWEEN_SPARES = 23


@dataclass(frozen=True, slots=True)
class Carton:
    """A carton in the works."""

    code: str
    units: tuple[Unit, ...]


class Dispatch:
    """Packs what has passed and ships what is ordered.

    Attributes:
        ready: Cartons that stand at packing.
        shipped: Serial -> (unit, number of the day on which it left).
    """

    def __init__(self, floor: ShopFloor, testing: Testing) -> None:
        self.floor = floor
        self.testing = testing
        self.ready: list[Carton] = []
        self.shipped: dict[str, tuple[Unit, int]] = {}
        self.customers = [customer.code for customer in floor.plan.customers]

    def work(self) -> None:
        """Pack full cartons; ship when there are orders."""
        while len(self.testing.passed) >= IN_A_CARTON:
            units = tuple(self.testing.passed[:IN_A_CARTON])
            del self.testing.passed[:IN_A_CARTON]
            self.pack(units)
        if len(self.ready) > 2 or (self.ready and self.floor.rng.random() < 0.15):
            number = self.floor.rng.randint(1, min(2, len(self.ready)))
            self.ship(self.ready[:number])
            del self.ready[:number]
        if self.floor.day > 60 and self.floor.day % DAYS_BETWEEN_SPARES == 0:
            self._sell_spares()

    def pack(self, units: tuple[Unit, ...]) -> Carton:
        """Pack units into a new carton."""
        carton = Carton(self.floor.code("CTN", 4), units)
        self.floor.record(
            "pack",
            "dora",
            station="PACK",
            carton=carton.code,
            place="PACK",
            contents=[{"item": unit.serial} for unit in units],
        )
        self.ready.append(carton)
        return carton

    def ship(self, cartons: list[Carton]) -> str:
        """Ship cartons to one of the customers."""
        floor = self.floor
        shipment = floor.code("SHP", 4)
        floor.record(
            "ship",
            "dora",
            station="DISPATCH",
            shipment=shipment,
            customer=floor.rng.choice(self.customers),
            reference=f"ORDER-{floor.rng.randint(20_000, 29_999)}",
            contents=[{"item": carton.code} for carton in cartons],
        )
        for carton in cartons:
            for unit in carton.units:
                self.shipped[unit.serial] = (unit, floor.day)
        return shipment

    def _sell_spares(self) -> None:
        """Pack some pieces of a lot and ship them."""
        floor = self.floor
        part, pieces = floor.rng.choice(SPARES)
        lots = floor.shelves.lots(part, "STORE")
        if not lots or floor.shelves.on_hand(lots[0], "STORE") < pieces:
            return
        carton = floor.code("CTN", 4)
        content = {"item": lots[0], "quantity": pieces, "place": "STORE"}
        floor.record(
            "pack", "dora", station="PACK", carton=carton, place="PACK", contents=[content]
        )
        floor.shelves.take(lots[0], "STORE", pieces)
        self.ship([Carton(carton, ())])
