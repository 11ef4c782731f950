"""Finishing of printed parts: powder removed, bead-blasted, dyed black, dried warm."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin_demo.machining.inspection import accept
from lotkin_demo.shop_floor import instant

if TYPE_CHECKING:
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["Finishing"]

LOADS_OF_A_BATH = 4
FORGOTTEN_LOAD = 7
DRIED_MINUTES = (70, 110)
KG_OF_DYE = Decimal("0.25")
MEASURES = {"COVER": ("Width", 48.0, 0.3), "CAM": ("Stroke", 6.0, 0.08)}


class Finishing:
    """One step a day for all that was printed together: covers and cams in one load, kept apart.

    Attributes:
        under_way: Pieces of a part between the printer and the store.
    """

    def __init__(self, floor: ShopFloor) -> None:
        self.floor = floor
        self.under_way: dict[str, int] = {}
        self._lots: dict[str, dict[str, int]] = {}
        self._bath = ""
        self._loads_left = 0
        self._dried = 0

    def expect(self, traveller: str, pieces: dict[str, int]) -> None:
        """Note what was printed."""
        self._lots[traveller] = dict(pieces)
        for part, count in pieces.items():
            self.under_way[part] = self.under_way.get(part, 0) + count

    def begin(self, traveller: str) -> None:
        """Take the lots of a build out of the powder and plan the steps that follow."""
        self._step(traveller, "20", "SIEVE-1")
        self.floor.later(1, lambda: self._blast(traveller))

    def _blast(self, traveller: str) -> None:
        self._step(traveller, "30", "BLAST-1")
        self.floor.later(1, lambda: self._dye(traveller))

    def _dye(self, traveller: str) -> None:
        self._step(traveller, "40", self._ready_bath())
        self.floor.later(1, lambda: self._dry(traveller))

    def _step(self, traveller: str, step: str, resource: str) -> None:
        started = self.floor.now - timedelta(minutes=25)
        self._load(traveller, step, resource, {"started": instant(started)})
        for part in self._lots[traveller]:
            self._sort_out(traveller, step, part)

    def _dry(self, traveller: str) -> None:
        """Dry a load; once it was forgotten in the oven, which is reported as it happened."""
        floor = self.floor
        self._dried += 1
        forgotten = self._dried == FORGOTTEN_LOAD
        minutes = 137 if forgotten else floor.rng.randint(*DRIED_MINUTES)
        timed = {
            "started": instant(floor.now - timedelta(minutes=minutes)),
            "celsius": f"{60 + floor.rng.uniform(-2, 2):.1f}",
        }
        self._load(traveller, "50", "OVEN-1", timed, reported=forgotten or None)
        first, *_ = self._lots[traveller]
        if forgotten:
            floor.note(lot_dried_too_long=f"{traveller}-50-{first}")
        for part in self._lots[traveller]:
            if part != first:
                # chance goes on as if this lot had been dried alone: later stories stay the same
                floor.rng.randint(*DRIED_MINUTES)
                floor.rng.uniform(-2, 2)
            self._sort_out(traveller, "50", part)
            self._store(f"{traveller}-50-{part}", part, self._lots[traveller][part])

    def _load(
        self,
        traveller: str,
        step: str,
        resource: str,
        timed: dict[str, str],
        *,
        reported: bool | None = None,
    ) -> None:
        """Record one run over the lots of a build, none of them mixed."""
        lots = self._lots[traveller]
        before = {part: f"{traveller}-{int(step) - 10}-{part}" for part in lots}
        self.floor.record(
            "make",
            "lene",
            minutes=0,
            reported=reported,
            station="PRINT" if step == "20" else "FINISH",
            step=step,
            traveller=traveller,
            run={
                "code": f"{traveller}-{step}-RUN",
                "run_kind": "finishing-load",
                "resources": [resource],
                **timed,
            },
            inputs=[{"item": lot} for lot in before.values()],
            outputs=[
                {
                    "code": f"{traveller}-{step}-{part}",
                    "part": part,
                    "quantity": pieces,
                    "of": [before[part]],
                }
                for part, pieces in lots.items()
            ],
        )

    def _sort_out(self, traveller: str, step: str, part: str) -> None:
        """Scrap a piece that did not come out well, which is seldom."""
        if self.floor.rng.random() >= 0.15:
            return
        self.floor.record(
            "scrap",
            "lene",
            minutes=0,
            item=f"{traveller}-{step}-{part}",
            quantity=1,
            reason="chipped",
        )
        self._lots[traveller][part] -= 1
        self.under_way[part] -= 1

    def _store(self, lot: str, part: str, pieces: int) -> None:
        floor = self.floor
        accept(floor, lot, gauge="CAL-2", measure=MEASURES[part])
        floor.record("move", "lene", item=lot, to_place="STORE")
        floor.shelves.put(lot, part, "STORE", pieces)
        self.under_way[part] -= pieces
        if part == "COVER":
            floor.note(last_cover_lot=lot)

    def _ready_bath(self) -> str:
        """Name the filling of the bath; a spent one is filled anew from a lot of dye."""
        if self._loads_left == 0:
            self._fill()
        self._loads_left -= 1
        return self._bath

    def _fill(self) -> None:
        floor = self.floor
        self._bath = floor.code("BATH")
        self._loads_left = LOADS_OF_A_BATH
        dye = floor.shelves.lots("DYE-BLACK", "POWDER")[0]
        floor.record(
            "make",
            "lene",
            station="FINISH",
            inputs=[{"item": dye, "quantity": str(KG_OF_DYE), "place": "POWDER"}],
            outputs=[{"code": self._bath, "item_kind": "bath", "part": "DYE-BATH", "quantity": 1}],
        )
        floor.shelves.take(dye, "POWDER", KG_OF_DYE)
