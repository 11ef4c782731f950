"""The flow test: three readings for each pump; what fails is held, repaired and tested again."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from lotkin_demo.assembly.repair import exchange
from lotkin_demo.working_days import LAST_DAY

if TYPE_CHECKING:
    from collections.abc import Callable

    from lotkin_demo.assembly.pumps import Assembly, Unit
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
        """Test what was built today; on the last day two stay on the bench untested."""
        built = self.assembly.to_test
        left = 2 if self.floor.now.date() == LAST_DAY else 0
        waiting, self.assembly.to_test = built[: len(built) - left], built[len(built) - left :]
        for unit in waiting:
            fails = self.floor.rng.random() < FAILS
            self.test(unit.serial, 36.9 if fails else self.flow_of(unit))
            if fails:
                self.floor.later(1, partial(self.repair, unit))
            else:
                self.pass_on(unit)

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

    def pass_on(self, unit: Unit) -> None:
        """Bring a unit that has passed to packing."""
        self.floor.record("move", "yusuf", minutes=0.5, item=unit.serial, to_place="PACK")
        self.passed.append(unit)

    def repair(self, unit: Unit) -> None:
        """Give a unit that failed new o-rings and test it again; one in four is beyond repair."""
        floor = self.floor
        exchange(self.floor, self.assembly, unit, part="ORING", note="failed the flow test")
        if floor.rng.random() < 0.25:
            self.test(unit.serial, 36.5)
            floor.record(
                "scrap", "quinn", item=unit.serial, reason="fails the flow test, head out of true"
            )
            floor.note(scrapped_units=(*floor.works.scrapped_units, unit.serial))
            return
        self.test(unit.serial, self.flow_of(unit))
        self.pass_on(unit)
