"""Milling: pump heads from sawn billets, first one side and then the other, a tray at a time."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from lotkin_demo.machining.inspection import accept
from lotkin_demo.shop_floor import instant

if TYPE_CHECKING:
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["Milling", "Tray"]

FEW_HEADS = 115
BILLETS = (26, 30)

Tray = tuple[str, int]
"""A lot of milled heads in its tray: code and pieces."""


class Milling:
    """One machining centre; trays of milled heads wait here for the anodiser.

    Attributes:
        waiting: Trays ready to be sent.
        under_way: Heads between the first chip and the store, anodising included.
    """

    def __init__(self, floor: ShopFloor) -> None:
        self.floor = floor
        self.waiting: list[Tray] = []
        self.under_way = 0
        self.is_busy = False
        self._free_since = floor.now

    def work(self) -> None:
        """Begin a tray if heads are getting few."""
        shelves = self.floor.shelves
        needed = shelves.total("HEAD", "STORE") + self.under_way < FEW_HEADS
        if needed and not self.is_busy and shelves.total("BILLET-6082", "RACK") >= BILLETS[1]:
            self.is_busy = True
            self._first_side()

    def _first_side(self) -> None:
        floor = self.floor
        pieces = floor.rng.randint(*BILLETS)
        traveller = floor.issue("HEAD", pieces)
        scrap = int(floor.rng.random() < 0.3)
        self._mill(traveller, "10", self._billets(pieces), pieces=pieces, scrap=scrap)
        self.under_way += pieces - scrap
        floor.later(1, lambda: self._second_side(traveller, pieces - scrap))

    def _billets(self, pieces: int) -> list[dict[str, object]]:
        inputs: list[dict[str, object]] = []
        while pieces:
            lot = self.floor.shelves.lots("BILLET-6082", "RACK")[0]
            some = min(pieces, int(self.floor.shelves.on_hand(lot, "RACK")))
            self.floor.shelves.take(lot, "RACK", some)
            inputs.append({"item": lot, "quantity": some, "place": "RACK"})
            pieces -= some
        return inputs

    def _second_side(self, traveller: str, pieces: int) -> None:
        scrap = int(self.floor.rng.random() < 0.4)
        first = [{"item": f"{traveller}-10"}]
        self._mill(traveller, "20", first, pieces=pieces, scrap=scrap)
        self.under_way -= scrap
        lot = f"{traveller}-20"
        accept(self.floor, lot, gauge="CAL-2", measure=("Bore", 10.0, 0.02))
        self.waiting.append((lot, pieces - scrap))
        self.is_busy = False

    def _mill(self, traveller: str, step: str, inputs: object, *, pieces: int, scrap: int) -> None:
        floor = self.floor
        floor.wait(20)
        lot = f"{traveller}-{step}"
        started = max(floor.now - timedelta(minutes=4 * pieces), self._free_since)
        run: dict[str, object] = {
            "code": f"{lot}-RUN",
            "run_kind": "machining-run",
            "started": instant(started),
            "resources": ["MILL-1", f"O20{step}", f"FIX-{step}"],
        }
        if step == "20":
            run["measures"] = {"Bore": f"{10 + floor.rng.uniform(-0.012, 0.012):.3f}"}
        floor.record(
            "make",
            "ivo",
            station="MILL",
            step=step,
            traveller=traveller,
            run=run,
            inputs=inputs,
            outputs=[{"code": lot, "part": "HEAD", "quantity": pieces - scrap}],
            scrap=scrap or None,
        )
        self._free_since = floor.now
