"""Machines, programs, fixtures, inserts and gauges: one item for each period without a change."""

from __future__ import annotations

from datetime import timedelta
from functools import partial
from typing import TYPE_CHECKING

from lotkin_demo.shop_floor import EventData, instant

if TYPE_CHECKING:
    from collections.abc import Callable

    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["Equipment"]

MACHINES = (
    ("LATHE-1", "LATHE"),
    ("MILL-1", "MILL"),
    ("PRINTER-1", "PRINT"),
    ("SIEVE-1", "PRINT"),
    ("BLAST-1", "FINISH"),
    ("OVEN-1", "FINISH"),
    ("BROACH-1", "PRESS"),
)
PROGRAMS = (
    ("O1204", "LATHE"),
    ("O1310", "LATHE"),
    ("O1422", "LATHE"),
    ("O2010", "MILL"),
    ("O2020", "MILL"),
)
FIXTURES = (("FIX-10", "MILL"), ("FIX-20", "MILL"))
GAUGES = (("CAL-1", 365), ("CAL-2", 182), ("LAYER-1", 365), ("RIG-1", 365))
GAUGE_PLACES = {"RIG-1": "TEST"}
RUNS_OF_AN_INSERT = 4
REVISED_ON_DAY = 140
FOUND_OUT = ("CAL-2", 2)
"""The gauge, and the number of its period, that was out of calibration."""


class Equipment:
    """What the runs use.

    Programs and gauges go by their number, which leads to the period in force; the insert is named
    by the item itself, because sometimes two of them come into question.

    Attributes:
        found_out: Is told the period of a gauge that turned out to be out of calibration.
    """

    def __init__(self, floor: ShopFloor) -> None:
        self.floor = floor
        self.insert = ""
        self.found_out: Callable[[str], object] = lambda _: None
        self._periods: dict[str, list[str]] = {}
        self.runs_left = 0

    def set_up(self) -> None:
        """Take everything into the records on the first day."""
        for machine, place in MACHINES:
            self._begin("machine", machine, machine, place)
        for program, place in PROGRAMS:
            self.revise(program, "A", place)
        for fixture, place in FIXTURES:
            self._begin("fixture", fixture, fixture, place)
        for gauge, days in GAUGES:
            self.calibrate(gauge, days)
        self.change_insert()
        self.floor.later(REVISED_ON_DAY, partial(self.revise, "O1204", "B", "LATHE"))

    def _begin(self, kind: str, code: str, part: str, place: str, **more: str | None) -> None:
        fields: EventData = {"code": code, "item_kind": kind, "part": part, "place": place, **more}
        self.floor.record("receive", "quinn", fields)

    def revise(self, program: str, revision: str, place: str) -> None:
        """Bring a revision of a program into use."""
        self._begin("program", f"{program}:{revision}", program, place, serial=program)

    def calibrate(self, gauge: str, days: int, *, note: str = "") -> str:
        """Begin a calibration period of a gauge; the last one ends.

        Returns:
            The code of the period.
        """
        code = f"{gauge}:{self.floor.now:%Y-%m-%d}"
        self._begin(
            "gauge",
            code,
            gauge,
            GAUGE_PLACES.get(gauge, "GAUGES"),
            serial=gauge,
            due=instant(self.floor.now + timedelta(days=days)),
            note=note or None,
        )
        self._periods.setdefault(gauge, []).append(code)
        # A week before it is due, so that it never is.
        self.floor.later(days * 16 // 25, lambda: self._calibrate_again(gauge, days))
        return code

    def _calibrate_again(self, gauge: str, days: int) -> None:
        """Have a gauge calibrated again; once it comes back as unfit since nobody knows when."""
        last = self._periods[gauge][-1]
        if (gauge, len(self._periods[gauge])) == FOUND_OUT:
            self.calibrate(gauge, days, note=f"adjusted: {last} was found 0.03 mm out")
            self.found_out(last)
        else:
            self.calibrate(gauge, days)

    def change_insert(self) -> None:
        """Put a new insert into pocket 1 of the turret; the old one is worn."""
        old = self.insert
        self.insert = self.floor.code("INSERT")
        self.runs_left = RUNS_OF_AN_INSERT
        self._begin("tool", self.insert, "T0101", "LATHE")
        if old:
            self.floor.record(
                "scrap", "tomas", station="LATHE", item=old, place="LATHE", reason="worn insert"
            )

    def inserts_for_a_run(self) -> list[str]:
        """Name the insert of a run.

        Every so often it was found changed after a run and nobody wrote down when: then both
        inserts are named.
        """
        before = self.insert
        if self.runs_left > 0:
            self.runs_left -= 1
            return [before]
        self.change_insert()
        if self.floor.rng.random() < 0.4:
            return [before, self.insert]
        return [self.insert]
