"""A late scan: the hoses at the bench by the wall are changed, and the mount is forgotten.

It is recorded days later with the time when it happened: the pumps built since move to the right
lot, and the old hoses, which the book had used up, go back to the store.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_demo.shop_floor import instant

if TYPE_CHECKING:
    from datetime import datetime

    from lotkin_demo.assembly.pumps import Assembly
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["LateScan"]

FORGOTTEN_AFTER = 400
UNITS_UNTIL_REMEMBERED = 3
FEWEST_LEFT = 10


class LateScan:
    """Happens once, when there are new hoses and still some of the old ones."""

    def __init__(self, floor: ShopFloor, assembly: Assembly) -> None:
        self.floor = floor
        self.assembly = assembly
        self.bench = assembly.benches[1]
        self.position = next(p for p in self.bench.positions if p.part == "HOSE")
        self._moment: datetime | None = None
        self._old = ""
        self._built_before = 0

    def work(self) -> None:
        """Change the hoses, or remember that they were changed."""
        if self._moment is not None:
            self._remember(self._moment)
        elif not self.floor.works.late_mounted_lot:
            self._forget_to_scan()

    def _forget_to_scan(self) -> None:
        floor, bench = self.floor, self.bench
        lots = floor.shelves.lots("HOSE", "STORE")
        if len(self.assembly.units) <= FORGOTTEN_AFTER or not lots:
            return
        if bench.left(self.position) < FEWEST_LEFT or lots[0] in bench.mounted.values():
            return
        self._old = bench.mounted[self.position.code]
        quantity = floor.shelves.on_hand(lots[0], "STORE")
        floor.shelves.bring(lots[0], quantity, origin="STORE", to=bench.place)
        bench.mounted[self.position.code] = lots[0]
        floor.wait(5)
        self._moment = floor.now
        self._built_before = len(self.assembly.serials_of(bench))

    def _remember(self, moment: datetime) -> None:
        floor, bench = self.floor, self.bench
        since = self.assembly.serials_of(bench)[self._built_before :]
        if len(since) < UNITS_UNTIL_REMEMBERED:
            return
        new = bench.mounted[self.position.code]
        brought = floor.shelves.on_hand(new, bench.place) + len(since)
        floor.record(
            "mount",
            bench.person,
            at=instant(moment),
            station=bench.place,
            bench=bench.code,
            positions=[bench.brought(self.position.code, new, brought)],
            note="forgotten when the hoses were changed",
        )
        self._take_back_the_old()
        floor.note(late_mounted_lot=new, units_of_the_late_mount=tuple(since))
        self._moment = None

    def _take_back_the_old(self) -> None:
        place = self.bench.place
        left = self.floor.shelves.on_hand(self._old, place)
        said: dict[str, object] = {"item": self._old, "quantity": str(left)}
        self.floor.record("move", self.bench.person, said, place=place, to_place="STORE")
        self.floor.shelves.bring(self._old, left, origin=place, to="STORE")
