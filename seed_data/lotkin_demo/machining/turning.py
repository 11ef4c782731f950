"""Turning: tips, nipples and shafts are cut from 8 mm bars that the feeder takes one by one.

Where a lot of bars ends within an order the next one follows, so that some lots are of two heats.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin.core.values.bars import cut_bar
from lotkin_demo.machining.inspection import accept

if TYPE_CHECKING:
    from lotkin_demo.machining.equipment import Equipment
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["Turning"]

BAR_M = Decimal(3)


@dataclass(frozen=True, slots=True)
class Turned:
    """A turned part.

    Attributes:
        low: Pieces at which a new order is begun.
        bars: Bars cut for one order.
    """

    part: str
    material: str
    program: str
    low: int
    bars: int
    diameter_mm: float


TURNED = (
    Turned("TIP", "BAR-CW614N-8", "O1204", 130, 2, 7.8),
    Turned("NIPPLE", "BAR-CW004A-8", "O1310", 60, 2, 6.5),
    Turned("SHAFT", "BAR-11SMNPB30-8", "O1422", 60, 2, 6.0),
)


class Turning:
    """One lathe, one order at a time."""

    def __init__(self, floor: ShopFloor, equipment: Equipment) -> None:
        self.floor = floor
        self.equipment = equipment

    def work(self) -> None:
        """Turn the part that is needed most, if there are bars for it."""
        wanted = [turned for turned in TURNED if self._is_low(turned) and self._has_bars(turned)]
        if wanted:
            self.turn(min(wanted, key=self._stored))

    def _stored(self, turned: Turned) -> Decimal:
        return self.floor.shelves.total(turned.part, "STORE")

    def _is_low(self, turned: Turned) -> bool:
        return self._stored(turned) < turned.low

    def _has_bars(self, turned: Turned) -> bool:
        return self.floor.shelves.total(turned.material, "RACK") >= turned.bars * BAR_M

    def turn(self, turned: Turned) -> str:
        """Cut some bars; where a lot of bars ends, the next one follows within the same order."""
        floor = self.floor
        per_bar = self._pieces_of_a_bar(turned)
        made = per_bar * turned.bars
        traveller = floor.issue(turned.part, made)
        lot = f"{traveller}-10"
        scrap, samples = floor.rng.randint(0, 4), int(floor.rng.random() < 0.5)
        inserts = self.equipment.inserts_for_a_run()
        bars = self._bars(turned, per_bar)
        self._note(lot, inserts, bars)
        floor.wait(10)
        floor.record(
            "make",
            "tomas",
            station="LATHE",
            step="10",
            traveller=traveller,
            run={
                "code": f"{lot}-RUN",
                "run_kind": "machining-run",
                "resources": ["LATHE-1", turned.program, *inserts],
            },
            inputs=bars,
            outputs=[{"code": lot, "part": turned.part, "quantity": made - scrap - samples}],
            scrap=scrap,
            samples=samples,
        )
        accept(floor, lot, gauge="CAL-1", measure=("Diameter", turned.diameter_mm, 0.05))
        floor.record("move", "tomas", item=lot, to_place="STORE")
        floor.shelves.put(lot, turned.part, "STORE", made - scrap - samples)
        return lot

    def _note(self, lot: str, inserts: list[str], bars: list[dict[str, object]]) -> None:
        if len(inserts) > 1:
            self.floor.note_first(lot_of_an_uncertain_insert=lot)
        if len(bars) > 1:
            self.floor.note_first(lot_from_two_heats=lot)

    def _pieces_of_a_bar(self, turned: Turned) -> int:
        part = self.floor.plan.part(turned.part)
        assert part is not None
        assert part.bar is not None
        bar = part.bar
        return cut_bar(
            bar.length_mm,
            bar.part_mm,
            cutoff_mm=bar.cutoff_mm,
            facing_mm=bar.facing_mm,
            remnant_mm=bar.remnant_mm,
        ).parts

    def _bars(self, turned: Turned, per_bar: int) -> list[dict[str, object]]:
        """Take whole bars from the rack; what is not in the parts is swarf and remnant."""
        part = self.floor.plan.part(turned.part)
        assert part is not None
        assert part.bar is not None
        loss = BAR_M - per_bar * part.bar.part_mm / 1000
        bars_from: dict[str, int] = {}
        for _ in range(turned.bars):
            lot = self.floor.shelves.lots(turned.material, "RACK")[0]
            self.floor.shelves.take(lot, "RACK", BAR_M)
            bars_from[lot] = bars_from.get(lot, 0) + 1
        return [
            {"item": lot, "quantity": str(bars * BAR_M), "place": "RACK", "loss": str(bars * loss)}
            for lot, bars in bars_from.items()
        ]
