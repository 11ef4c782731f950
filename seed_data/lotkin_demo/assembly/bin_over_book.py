"""A bin that holds more than the book says: pumps are built from it all the same, and reported.

The book goes below zero until the bin is counted.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin_demo.assembly.bench import Position
    from lotkin_demo.assembly.pumps import Assembly
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["BinOverBook"]

AFTER_UNITS = 640
PIECES_OVER = 14
UNITS_BELOW = 2


class BinOverBook:
    """Happens once at the bench by the wall, to its pins."""

    def __init__(self, floor: ShopFloor, assembly: Assembly) -> None:
        self.floor = floor
        self.assembly = assembly
        self.bench = assembly.benches[1]
        self.bench.fill_otherwise = self.go_on
        self._built_before = 0

    def _is_due(self) -> bool:
        is_over = bool(self.floor.works.units_below_the_book)
        return len(self.assembly.units) > AFTER_UNITS and not is_over

    def go_on(self, position: Position) -> bool:
        """Find more in the bin than the book says, instead of filling it."""
        bench = self.bench
        if position.part != "PIN" or bench.below_book or not self._is_due():
            return False
        if bench.left(position) >= position.per:
            return False
        bench.below_book = bench.mounted[position.code]
        self.floor.shelves.put(bench.below_book, position.part, bench.place, PIECES_OVER)
        self._built_before = len(self.assembly.serials_of(bench))
        return True

    def work(self) -> None:
        """Wait until the bin is really empty, and count it after some units."""
        floor, bench = self.floor, self.bench
        bench.tops_up = not self._is_due()
        since = self.assembly.serials_of(bench)[self._built_before :]
        if not bench.below_book or len(since) < UNITS_BELOW:
            return
        floor.record(
            "count",
            bench.person,
            place=bench.place,
            item=bench.below_book,
            counted=str(floor.shelves.on_hand(bench.below_book, bench.place)),
            note="the supplier packs a few more than he counts",
        )
        floor.note(units_below_the_book=tuple(since))
        bench.below_book = ""
