"""The flow test: three readings for each pump; what fails is held, repaired and tested again."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from lotkin_demo.assembly import Assembly, Unit
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["Testing"]

NOMINAL_ML = 40.0
FAILS = 0.015


class Testing:
    """One rig.

    Attributes:
        passed: Units that wait to be packed.
        flow_of: Tells the mean flow of a unit, where it is not the nominal one.
    """

    __test__ = False

    def __init__(self, floor: ShopFloor, assembly: Assembly) -> None:
        self.floor = floor
        self.assembly = assembly
        self.passed: list[Unit] = []
        self.flow_of: Callable[[Unit], float] = lambda _: NOMINAL_ML

    def work(self) -> None:
        """Test what was built today."""
        waiting, self.assembly.to_test = self.assembly.to_test, []
        for unit in waiting:
            fails = self.floor.rng.random() < FAILS
            self.test(unit.serial, 36.9 if fails else self.flow_of(unit))
            if fails:
                self.floor.later(1, partial(self.repair, unit))
            else:
                self.passed.append(unit)

    def test(self, serial: str, mean: float) -> None:
        """Take three readings of a unit."""
        floor = self.floor
        readings = [f"{mean + floor.rng.uniform(-0.5, 0.5):.2f}" for _ in range(3)]
        floor.record(
            "test",
            "yusuf",
            minutes=4,
            station="TEST",
            unit=serial,
            name="Flow",
            readings=readings,
            resources=["RIG-1"],
        )

    def repair(self, unit: Unit) -> None:
        """Give a unit that failed new o-rings and test it again; one in four is beyond repair."""
        floor = self.floor
        bench = next(b for b in self.assembly.benches if b.code == unit.bench)
        ring = next(p for p in bench.positions if p.part == "ORING")
        if bench.left(ring) < ring.per:
            bench.make_ready()
        new = bench.mounted[ring.code]
        floor.record(
            "swap",
            bench.person,
            station=bench.place,
            unit=unit.serial,
            remove=[{"item": unit.lots[ring.code], "position": ring.code}],
            add=[{"item": new, "position": ring.code, "quantity": 2, "place": bench.place}],
            note="new o-rings after a failed test",
        )
        floor.shelves.take(new, bench.place, 2)
        unit.lots[ring.code] = new
        if floor.rng.random() < 0.25:
            self.test(unit.serial, 36.5)
            floor.record(
                "scrap", "quinn", item=unit.serial, reason="fails the flow test, head out of true"
            )
            return
        self.test(unit.serial, self.flow_of(unit))
        self.passed.append(unit)
