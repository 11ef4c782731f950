"""Gears: bought soft and sent to Ostfeld to be case-hardened, a lot at a time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_demo.machining.inspection import accept

if TYPE_CHECKING:
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["Gears"]

FEW_GEARS = 60


class Gears:
    """Has gears hardened when they are getting few."""

    def __init__(self, floor: ShopFloor) -> None:
        self.floor = floor
        self.is_out = False

    def work(self) -> None:
        """Send the next lot, if it is time to."""
        shelves = self.floor.shelves
        soft = shelves.lots("GEAR-SOFT", "STORE")
        if soft and not self.is_out and shelves.total("GEAR", "STORE") < FEW_GEARS:
            self.is_out = True
            self._send(soft[0])

    def _send(self, soft: str) -> None:
        floor = self.floor
        batch = floor.code("HARD")
        pieces = int(floor.shelves.on_hand(soft, "STORE"))
        floor.shelves.take(soft, "STORE", pieces)
        floor.record(
            "send",
            "mara",
            batch=batch,
            supplier="OSTFELD",
            service="case hardening",
            step="10",
            inputs=[{"item": soft, "place": "STORE"}],
        )
        floor.later(floor.rng.randint(8, 11), lambda: self._take_back(batch, soft, pieces))

    def _take_back(self, batch: str, soft: str, pieces: int) -> None:
        floor = self.floor
        lot = floor.code("GEAR")
        floor.record(
            "take-back",
            "mara",
            batch=batch,
            returns=[
                {
                    "output": {"code": lot, "part": "GEAR", "quantity": pieces, "place": "GAUGES"},
                    "of": [{"item": soft}],
                }
            ],
            close=True,
        )
        accept(floor, lot, gauge="CAL-2", measure=("Bore", 6.0, 0.02))
        floor.record("move", "quinn", item=lot, to_place="STORE")
        floor.shelves.put(lot, "GEAR", "STORE", pieces)
        self.is_out = False
