"""A dropped pump is taken apart: its motor and its gear are good and go into other pumps."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin_demo.assembly.pumps import Assembly, Unit
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["Recovery"]

GEAR = "B4"
"""Position of the bench at which the gear is mounted."""


class Recovery:
    """Takes one unit apart and uses what is recovered."""

    def __init__(self, floor: ShopFloor, assembly: Assembly) -> None:
        self.floor = floor
        self.assembly = assembly

    def dismantle(self, unit: Unit) -> None:
        """Recover motor and gear; the rest is scrapped."""
        floor = self.floor
        bench = self.assembly.benches[0]
        motor, gear = unit.lots["MOTOR"], unit.lots[GEAR]
        floor.record(
            "dismantle",
            "quinn",
            station="GAUGES",
            unit=unit.serial,
            recovered=[
                {"item": motor, "position": "MOTOR", "place": "STORE", "code": f"{motor}/2"},
                {"item": gear, "position": GEAR, "place": bench.place, "code": f"{gear}/R1"},
            ],
            note="dropped; motor and gear are sound",
        )
        floor.note(dismantled_unit=unit.serial, recovered_motor=f"{motor}/2")
        floor.shelves.put(f"{gear}/R1", "GEAR", bench.place, 1)
        floor.later(1, partial(self._use, f"{motor}/2", f"{gear}/R1"))

    def _use(self, motor: str, gear: str) -> None:
        """Mount the gear for one unit, and build the next one with the motor."""
        floor = self.floor
        bench = self.assembly.benches[0]
        if not bench.make_ready():
            floor.later(1, partial(self._use, motor, gear))
            return
        usual = bench.mounted[GEAR]
        bench.mounted[GEAR] = gear
        bench.mount([{"position": GEAR, "item": gear}])
        with_gear = self.assembly.build(bench)
        bench.mounted[GEAR] = usual
        bench.mount([{"position": GEAR, "item": usual}])
        with_motor = self.assembly.build(bench, motor=motor)
        assert with_gear is not None
        assert with_motor is not None
        floor.note(
            unit_with_recovered_gear=with_gear.serial, unit_with_recovered_motor=with_motor.serial
        )
