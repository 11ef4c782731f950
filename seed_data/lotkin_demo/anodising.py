"""Anodising outside: trays of heads go to Lindmoor as one batch and come back, mostly in order."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin_demo.inspection import accept

if TYPE_CHECKING:
    from lotkin_demo.milling import Milling, Tray
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["Anodising"]

TRAYS = 2


@dataclass(frozen=True, slots=True)
class Out:
    """A batch at the anodiser."""

    batch: str
    trays: tuple[Tray, ...]


class Anodising:
    """Sends trays off and takes them back.

    Attributes:
        sent: Batches in the order of their dispatch.
    """

    def __init__(self, floor: ShopFloor, milling: Milling) -> None:
        self.floor = floor
        self.milling = milling
        self.sent: list[Out] = []

    def work(self) -> None:
        """Send the trays that are ready once there are two."""
        if len(self.milling.waiting) >= TRAYS:
            trays = tuple(self.milling.waiting[:TRAYS])
            del self.milling.waiting[:TRAYS]
            self.send(trays)

    def send(self, trays: tuple[Tray, ...]) -> Out:
        """Send trays as one batch; it comes back after a week or two."""
        floor = self.floor
        out = Out(floor.code("ANO"), trays)
        floor.record(
            "send",
            "mara",
            station=None,
            batch=out.batch,
            supplier="LINDMOOR",
            service="anodising",
            step="30",
            inputs=[{"item": lot, "quantity": pieces} for lot, pieces in trays],
        )
        self.sent.append(out)
        floor.later(floor.rng.randint(6, 9), lambda: self.take_back(out))
        return out

    def take_back(self, out: Out) -> None:
        """Take a batch back, tray by tray."""
        floor = self.floor
        returns = []
        for lot, pieces in out.trays:
            code = treated_code(lot)
            returns.append(
                {
                    "output": {"code": code, "part": "HEAD", "quantity": pieces, "place": "GAUGES"},
                    "of": [{"item": lot}],
                }
            )
        floor.record("take-back", "mara", batch=out.batch, returns=returns, close=True)
        for lot, pieces in out.trays:
            self.store(treated_code(lot), pieces)

    def store(self, lot: str, pieces: int) -> None:
        """Measure the coating and bring the lot to the store."""
        floor = self.floor
        accept(floor, lot, gauge="LAYER-1", measure=("Coating", 0.012, 0.004))
        floor.record("move", "quinn", item=lot, to_place="STORE")
        floor.shelves.put(lot, "HEAD", "STORE", pieces)
        self.milling.under_way -= pieces


def treated_code(lot: str) -> str:
    """Name the anodised lot after the traveller of the milled one."""
    return lot.removesuffix("-20") + "-30"
