"""A wrong scan: springs are mounted from one box, and the label of the box beside it is scanned.

Two hundred pumps later somebody reads the label in the bin, and the mount is amended.
"""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin_demo.assembly.bench import Position
    from lotkin_demo.assembly.pumps import Assembly
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["WrongScan"]

UNITS_UNTIL_SEEN = 200


class WrongScan:
    """Happens at the bench by the window when its springs are renewed for the first time."""

    def __init__(self, floor: ShopFloor, assembly: Assembly) -> None:
        self.floor = floor
        self.assembly = assembly
        self.bench = assembly.benches[0]
        self.bench.fill_otherwise = self.scan_the_box_beside
        self._mount = ""
        self._quantity = Decimal(0)
        self._position = ""
        self._built_before = 0

    def scan_the_box_beside(self, position: Position) -> bool:
        """Mount the first lot of springs, but record the second."""
        floor = self.floor
        if position.part != "SPRING" or floor.works.wrongly_scanned_lot:
            return False
        lots = floor.shelves.lots("SPRING", "STORE")
        if self.bench.changed_at is None or len(lots) < 2:
            return False
        right, wrong = lots[:2]
        self._quantity = min(floor.shelves.on_hand(lot, "STORE") for lot in (right, wrong))
        self._position = position.code
        floor.shelves.bring(right, self._quantity, origin="STORE", to=self.bench.place)
        floor.shelves.set_aside(wrong)
        self.bench.mounted[position.code] = right
        self._mount = self.bench.mount([self._brought(wrong)])
        self._built_before = len(self.assembly.serials_of(self.bench))
        floor.note(wrongly_scanned_lot=wrong, rightly_mounted_lot=right)
        return True

    def work(self) -> None:
        """Read the label in the bin, in the end, and amend the mount."""
        since = self.assembly.serials_of(self.bench)[self._built_before :]
        if not self._mount or len(since) < UNITS_UNTIL_SEEN:
            return
        floor = self.floor
        patch = {"positions": [self._brought(floor.works.rightly_mounted_lot)]}
        floor.record(
            "amend",
            "quinn",
            reason="the label in the bin is that of the other box of springs",
            changes=[{"event": self._mount, "patch": patch}],
        )
        floor.shelves.release(floor.works.wrongly_scanned_lot)
        floor.note(units_of_the_wrong_scan=tuple(since))
        self._mount = ""

    def _brought(self, lot: str) -> dict[str, object]:
        return self.bench.brought(self._position, lot, self._quantity)
