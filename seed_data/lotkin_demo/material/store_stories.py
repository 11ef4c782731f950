"""What was found in the store: a bag without a label, a caliper out of calibration."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from lotkin_demo.machining.inspection import accept, judge

if TYPE_CHECKING:
    from lotkin_demo.machining.equipment import Equipment
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["StoreStories"]

BAG_ON_DAY = 200
PIECES_IN_THE_BAG = 60
MEASURED_WITH_IT = {
    "LEVER": ("Square", 4.0, 0.03),
    "GEAR": ("Bore", 6.0, 0.02),
    "COVER": ("Width", 48.0, 0.3),
}


class StoreStories:
    """Two findings, each on its day."""

    def __init__(self, floor: ShopFloor, equipment: Equipment) -> None:
        self.floor = floor
        equipment.found_out = self.hold_what_it_accepted

    def work(self) -> None:
        """Find the bag, once three lots of o-rings have been in the store."""
        if self.floor.day >= BAG_ON_DAY and not self.floor.works.unlabelled_bin:
            self._find_the_bag()

    def _find_the_bag(self) -> None:
        """Count the newest lot short, and find as many o-rings in a bag without a label.

        They may be of any of the last three lots; they are held until somebody has looked at them.
        """
        floor = self.floor
        lots = floor.shelves.lots("ORING", "STORE")
        number = int(lots[-1][-3:]) if lots else 0
        if number < 3 or floor.shelves.on_hand(lots[-1], "STORE") <= PIECES_IN_THE_BAG:
            return
        short = lots[-1]
        left = floor.shelves.on_hand(short, "STORE") - PIECES_IN_THE_BAG
        floor.record("count", "mara", place="STORE", item=short, counted=str(left))
        floor.shelves.take(short, "STORE", PIECES_IN_THE_BAG)
        candidates = tuple(f"ORING-{n:03d}" for n in (number, number - 1, number - 2))
        bag = floor.code("FOUND")
        floor.record(
            "count",
            "mara",
            place="STORE",
            found={"code": bag, "candidates": candidates, "quantity": PIECES_IN_THE_BAG},
        )
        floor.note(unlabelled_bin=bag, candidates_of_the_bin=candidates)
        floor.later(4, partial(self._accept_the_bag, bag))

    def _accept_the_bag(self, bag: str) -> None:
        judge(self.floor, bag, "accepted", reason="right size and hardness; the lot stays unknown")
        self.floor.shelves.put(bag, "ORING", "STORE", PIECES_IN_THE_BAG)

    def hold_what_it_accepted(self, period: str) -> None:
        """Hold what is still in the store of lots that the caliper has accepted."""
        self.floor.note(gauge_out_of_calibration=period)
        for part, measure in MEASURED_WITH_IT.items():
            for lot in self.floor.shelves.lots(part, "STORE")[:1]:
                self._hold(lot, part, measure)

    def _hold(self, lot: str, part: str, measure: tuple[str, float, float]) -> None:
        """Hold the rest of a lot: some of it is in units, so the rest becomes a lot of its own."""
        floor = self.floor
        rest = f"{lot}/2"
        pieces = floor.shelves.on_hand(lot, "STORE")
        floor.record(
            "inspect",
            "quinn",
            station="GAUGES",
            item=lot,
            inspection=floor.code("QC", 4),
            result="hold",
            reason=f"accepted with {floor.works.gauge_out_of_calibration}, which is 0.03 mm out",
            place="STORE",
            rest=rest,
        )
        floor.shelves.take(lot, "STORE", pieces)
        floor.note(held_for_the_gauge=(*floor.works.held_for_the_gauge, rest))
        floor.shelves.put(rest, part, "STORE", pieces)
        floor.shelves.set_aside(rest)
        floor.later(1, partial(self._measure_again, rest, measure))

    def _measure_again(self, rest: str, measure: tuple[str, float, float]) -> None:
        accept(self.floor, rest, gauge="CAL-2", measure=measure)
        self.floor.shelves.release(rest)
