"""Assembly: pumps are built at two benches, a few a day, each with a motor of its own serial."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from lotkin_demo.assembly.bench import Bench
from lotkin_demo.shop_floor import instant
from lotkin_demo.working_days import working_days

if TYPE_CHECKING:
    from datetime import datetime

    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["Assembly", "Unit"]

FIRST_DAY = 34
UNITS = 1210
MOST_IN_A_DAY = 9
STRADDLES = 0.3


@dataclass(slots=True)
class Unit:
    """A pump as its builder knows it.

    Attributes:
        lots: Position -> lot, the motor at `MOTOR`.
    """

    serial: str
    bench: str
    place: str
    lots: dict[str, str]


class Assembly:
    """Keeps to a steady number of units a day, as far as parts are there.

    Attributes:
        units: All units in the order in which they were built.
        to_test: Those that wait for their test.
    """

    def __init__(self, floor: ShopFloor) -> None:
        self.floor = floor
        self.benches = (Bench(floor, "BENCH-A", "anna"), Bench(floor, "BENCH-B", "ben"))
        self.units: list[Unit] = []
        self.to_test: list[Unit] = []

    def work(self) -> None:
        """Build today's units, in turns at both benches."""
        days = len(working_days()) - FIRST_DAY
        due = UNITS * (self.floor.day - FIRST_DAY + 1) // days
        wanted = min(due - len(self.units), MOST_IN_A_DAY)
        for number in range(max(wanted, 0)):
            bench = self.benches[(self.floor.day + number) % 2]
            if self.floor.shelves.lots("MOTOR", "STORE"):
                self.build(bench)

    def bench_of(self, unit: Unit) -> Bench:
        """Give the bench at which a unit was built."""
        return next(bench for bench in self.benches if bench.code == unit.bench)

    def serials_of(self, bench: Bench) -> list[str]:
        """List what was built at a bench, in order."""
        return [unit.serial for unit in self.units if unit.bench == bench.code]

    def build(self, bench: Bench, *, motor: str = "") -> Unit | None:
        """Build one unit, if the bench can be made ready; the motor is a new one unless named."""
        floor = self.floor
        before = bench.changed_at
        begun = floor.now - timedelta(minutes=floor.rng.randint(0, 9))
        if not bench.make_ready():
            return None
        floor.wait(floor.rng.randint(14, 22))
        started = self._started(bench, before, begun)
        unit = Unit(floor.code("DP40", 4), bench.code, bench.place, dict(bench.mounted))
        unit.lots["MOTOR"] = motor or floor.shelves.lots("MOTOR", "STORE")[0]
        floor.record(
            "build",
            bench.person,
            station=bench.place,
            serial=unit.serial,
            part="DP40",
            bench=bench.code,
            started=started,
            reported=bool(bench.below_book) or None,
            inputs=[{"item": unit.lots["MOTOR"], "position": "MOTOR", "place": "STORE"}],
        )
        self._use_up(bench, unit, is_new_motor=not motor)
        self.units.append(unit)
        self.to_test.append(unit)
        return unit

    def _started(self, bench: Bench, before: datetime | None, begun: datetime) -> str | None:
        """Say when a unit was begun, if that was before the bench was changed for it."""
        if before is None or bench.changed_at == before or begun <= before:
            return None
        if self.floor.rng.random() >= STRADDLES:
            return None
        self.floor.note_first(straddling_unit=f"DP40-{len(self.units) + 1:04d}")
        return instant(begun)

    def _use_up(self, bench: Bench, unit: Unit, *, is_new_motor: bool) -> None:
        for position in bench.positions:
            self.floor.shelves.take(unit.lots[position.code], bench.place, position.per)
        if is_new_motor:
            self.floor.shelves.take(unit.lots["MOTOR"], "STORE", 1)
