"""Finishing of printed parts: powder removed, bead-blasted, dyed black, dried warm."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin_demo.inspection import accept
from lotkin_demo.shop_floor import instant

if TYPE_CHECKING:
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["Finishing"]

LOADS_OF_A_BATH = 8
FORGOTTEN_LOAD = 13
KG_OF_DYE = Decimal("0.25")
MEASURES = {"COVER": ("Width", 48.0, 0.3), "CAM": ("Stroke", 6.0, 0.08)}


class Finishing:
    """One step a day for each lot, covers and cams apart.

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
        floor = self.floor
        for part in self._lots[traveller]:
            self._step(traveller, part, "20", ["SIEVE-1"])
        floor.later(1, lambda: self._blast(traveller))

    def _blast(self, traveller: str) -> None:
        for part in self._lots[traveller]:
            self._step(traveller, part, "30", ["BLAST-1"])
        self.floor.later(1, lambda: self._dye(traveller))

    def _dye(self, traveller: str) -> None:
        for part in self._lots[traveller]:
            self._step(traveller, part, "40", [self._ready_bath()])
        self.floor.later(1, lambda: self._dry(traveller))

    def _dry(self, traveller: str) -> None:
        for part in self._lots[traveller]:
            self._dry_lot(traveller, part)
            self._store(f"{traveller}-50-{part}", part, self._lots[traveller][part])

    def _dry_lot(self, traveller: str, part: str) -> None:
        """Dry a lot; once it was forgotten in the oven, which is reported as it happened."""
        floor = self.floor
        lot = f"{traveller}-50-{part}"
        self._dried += 1
        forgotten = self._dried == FORGOTTEN_LOAD
        minutes = 137 if forgotten else floor.rng.randint(70, 110)
        if forgotten:
            floor.note(lot_dried_too_long=lot)
        self._step(
            traveller,
            part,
            "50",
            ["OVEN-1"],
            started=instant(floor.now - timedelta(minutes=minutes)),
            celsius=f"{60 + floor.rng.uniform(-2, 2):.1f}",
            reported=forgotten or None,
        )

    def _step(
        self,
        traveller: str,
        part: str,
        step: str,
        resources: list[str],
        *,
        reported: bool | None = None,
        **timed: str,
    ) -> None:
        floor = self.floor
        station = "PRINT" if step == "20" else "FINISH"
        lot = f"{traveller}-{step}-{part}"
        before = f"{traveller}-{int(step) - 10}-{part}"
        pieces = self._lots[traveller][part]
        scrap = int(floor.rng.random() < 0.15)
        started = timed or {"started": instant(floor.now - timedelta(minutes=25))}
        run: dict[str, object] = {
            "code": f"{lot}-RUN",
            "run_kind": "finishing-load",
            "resources": resources,
            **started,
        }
        floor.record(
            "make",
            "lene",
            minutes=0,
            reported=reported,
            station=station,
            step=step,
            traveller=traveller,
            run=run,
            inputs=[{"item": before}],
            outputs=[{"code": lot, "part": part, "quantity": pieces - scrap}],
            scrap=scrap or None,
        )
        self._lots[traveller][part] -= scrap
        self.under_way[part] -= scrap

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
