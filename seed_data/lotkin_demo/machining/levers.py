"""Levers: cut outside by laser, then broached and blasted here; the fourth lot is rejected."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_demo.machining.inspection import accept, judge

if TYPE_CHECKING:
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["Levers"]

FEW_LEVERS = 50
REJECTED = 4


class Levers:
    """Broaches a delivery of blanks when levers are getting few."""

    def __init__(self, floor: ShopFloor) -> None:
        self.floor = floor
        self.is_busy = False
        self.broached = 0

    def work(self) -> None:
        """Broach the next lot of blanks, if it is time to."""
        shelves = self.floor.shelves
        blanks = shelves.lots("LEVER-BLANK", "STORE")
        if blanks and not self.is_busy and shelves.total("LEVER", "STORE") < FEW_LEVERS:
            self.is_busy = True
            self.broached += 1
            self._broach(blanks[0])

    def _broach(self, blank: str) -> None:
        floor = self.floor
        pieces = int(floor.shelves.on_hand(blank, "STORE"))
        traveller = floor.issue("LEVER", pieces)
        scrap = floor.rng.randint(0, 3)
        floor.shelves.take(blank, "STORE", pieces)
        floor.wait(15)
        floor.record(
            "make",
            "ivo",
            station="PRESS",
            step="10",
            traveller=traveller,
            run={
                "code": f"{traveller}-10-RUN",
                "run_kind": "machining-run",
                "resources": ["BROACH-1"],
            },
            inputs=[{"item": blank, "place": "STORE"}],
            outputs=[{"code": f"{traveller}-10", "part": "LEVER", "quantity": pieces - scrap}],
            scrap=scrap or None,
        )
        floor.later(1, lambda: self._blast(traveller, pieces - scrap))

    def _blast(self, traveller: str, pieces: int) -> None:
        floor = self.floor
        lot = f"{traveller}-20"
        floor.record(
            "make",
            "lene",
            station="FINISH",
            step="20",
            traveller=traveller,
            run={
                "code": f"{lot}-RUN",
                "run_kind": "finishing-load",
                "resources": ["BLAST-1"],
            },
            inputs=[{"item": f"{traveller}-10"}],
            outputs=[{"code": lot, "part": "LEVER", "quantity": pieces}],
        )
        if self.broached == REJECTED:
            self._reject(lot, pieces)
            return
        accept(floor, lot, gauge="CAL-2", measure=("Square", 4.0, 0.03))
        floor.record("move", "lene", item=lot, to_place="STORE")
        floor.shelves.put(lot, "LEVER", "STORE", pieces)
        self.is_busy = False

    def _reject(self, lot: str, pieces: int) -> None:
        """Lock up a lot whose squares are too wide; most is scrapped, the rest argued over."""
        floor = self.floor
        judge(floor, lot, "rejected", reason="squares 0.1 mm too wide, broach worn")
        floor.record("move", "quinn", item=lot, to_place="QUAR")
        floor.record(
            "scrap",
            "quinn",
            item=lot,
            quantity=pieces - 40,
            reason="squares too wide",
            place="QUAR",
        )
        floor.note(rejected_lot=lot)
        self.is_busy = False
