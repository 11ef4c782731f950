"""Pumps that come back from customers: for leaks, for noise, and for reasons of their own.

The leaks all come from the badly sealed batch of heads, the noise from one lot of cams; nobody in
the works knows that yet. The other returns have nothing in common.
"""

from __future__ import annotations

from collections import Counter
from functools import partial
from typing import TYPE_CHECKING

from lotkin_demo.assembly.repair import exchange, exchange_motor
from lotkin_demo.machining.inspection import judge
from lotkin_demo.material.receiving import MOTORS_IN_A_DELIVERY

if TYPE_CHECKING:
    from collections.abc import Callable

    from lotkin_demo.after_sale.recovery import Recovery
    from lotkin_demo.assembly.pumps import Assembly, Unit
    from lotkin_demo.assembly.testing import Testing
    from lotkin_demo.outside.anodising import Anodising
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["CustomerReturns"]

LEAKS = ("leaks at the head", "wet under the pump head", "fertiliser seeps out at the head")
NOISES = ("loud at every stroke", "the motor rattles", "ticks, can be heard in the whole house")
OTHER = (
    "cable torn off by a trolley",
    "wrong item ordered",
    "dropped on concrete",
    "runs backwards",
    "hose gone hard from acid",
    "does not start",
)
HEAD, CAM = "A1", "B2"
"""Positions of the bench, at which a unit got the parts in question."""

IN_A_CLUSTER = 7
MOST_OF_A_SHARE = 4
CHANCE_IN_A_CLUSTER = 0.25
SHIPPED_BETWEEN_OTHERS = 130
DAYS_WITH_CUSTOMER = (35, 90)


class CustomerReturns:
    """Decides what comes back, takes it back, and says what becomes of it."""

    def __init__(
        self, floor: ShopFloor, assembly: Assembly, testing: Testing, anodising: Anodising
    ) -> None:
        self.floor = floor
        self.assembly = assembly
        self.testing = testing
        self.anodising = anodising
        self.recovery: Recovery | None = None
        self._expected: Counter[str] = Counter()
        self._others_left = len(OTHER)
        self._shipped = 0

    def flow_of(self, unit: Unit) -> float:
        """Tell the mean flow of a unit in ml/min: low, but good enough, with a seeping head."""
        return 38.9 if self._seeps(unit) else 40.0

    def _seeps(self, unit: Unit) -> bool:
        return unit.lots[HEAD] in self.anodising.bad_lots

    def _is_loud(self, unit: Unit) -> bool:
        return unit.lots[CAM] == self.floor.works.noisy_cam_lot

    def shipped(self, unit: Unit) -> None:
        """Decide whether a unit that leaves will come back."""
        works = self.floor.works
        if unit.serial in (*works.repaired_units, works.no_fault_found):
            return
        self._shipped += 1
        lucky = self.floor.rng.random() >= CHANCE_IN_A_CLUSTER
        if self._seeps(unit):
            if not lucky and self._is_one_more("leak", unit.lots[HEAD]):
                self._expect(unit, self._leak)
        elif self._is_loud(unit):
            box = (int(unit.lots["MOTOR"][5:10]) - 1) // MOTORS_IN_A_DELIVERY
            if not lucky and self._is_one_more("noise", f"box {box}"):
                self._expect(unit, self._noise)
        elif self._shipped % SHIPPED_BETWEEN_OTHERS == 0 and self._others_left:
            self._others_left -= 1
            self._expect(unit, self._other)

    def _is_one_more(self, why: str, share: str) -> bool:
        """Count one more unit of a cluster; not all of them share a head lot or a box of motors."""
        if self._expected[why] == IN_A_CLUSTER or self._expected[share] == MOST_OF_A_SHARE:
            return False
        self._expected.update((why, share))
        return True

    def _expect(self, unit: Unit, comes_back: Callable[[Unit], None]) -> None:
        self.floor.later(self.floor.rng.randint(*DAYS_WITH_CUSTOMER), partial(comes_back, unit))

    def _return(self, unit: Unit, reason: str) -> None:
        self.floor.record("return", "mara", item=unit.serial, to_place="RETURNS", reason=reason)

    # --- leaks

    def _leak(self, unit: Unit) -> None:
        floor = self.floor
        known = floor.works.returned_for_leaks
        self._return(unit, LEAKS[len(known) % len(LEAKS)])
        floor.note(returned_for_leaks=(*known, unit.serial))
        if not known:
            floor.note(complaint=unit.serial)
            floor.later(5, partial(self._repair, unit, "HEAD"))

    def _repair(self, unit: Unit, part: str) -> None:
        """Exchange what is at fault, test again, and let it be packed and shipped once more."""
        floor = self.floor
        floor.note(repaired_units=(*floor.works.repaired_units, unit.serial))
        if part == "MOTOR":
            exchange_motor(floor, self.assembly, unit, note="returned for noise")
            floor.note(swapped_unit=unit.serial)
        else:
            exchange(floor, self.assembly, unit, part=part, note="leaks", end="sample")
        self.testing.test(unit.serial, self.flow_of(unit))
        judge(floor, unit.serial, "accepted", reason="repaired and tested")
        self.testing.pass_on(unit)

    # --- noise

    def _noise(self, unit: Unit) -> None:
        floor = self.floor
        known = floor.works.returned_for_noise
        self._return(unit, NOISES[len(known) % len(NOISES)])
        floor.note(returned_for_noise=(*known, unit.serial))
        if not known:
            floor.later(3, partial(self._repair, unit, "MOTOR"))

    # --- everything else

    def _other(self, unit: Unit) -> None:
        floor = self.floor
        known = floor.works.returned_for_other_reasons
        reason = OTHER[len(known)]
        self._return(unit, reason)
        floor.note(returned_for_other_reasons=(*known, unit.serial))
        if reason == "wrong item ordered":
            floor.later(2, partial(self._find_no_fault, unit))
        if reason == "dropped on concrete" and self.recovery is not None:
            floor.later(2, partial(self.recovery.dismantle, unit))
        if reason == "runs backwards":
            floor.later(6, partial(self._scrap, unit))

    def _find_no_fault(self, unit: Unit) -> None:
        """Look at a unit, accept it, test it again: the same pump in its next state."""
        floor = self.floor
        judge(floor, unit.serial, "accepted", reason="as new, ordered by mistake")
        floor.note(no_fault_found=unit.serial)
        self.testing.test(unit.serial, self.flow_of(unit))
        self.testing.pass_on(unit)

    def _scrap(self, unit: Unit) -> None:
        floor = self.floor
        floor.record("scrap", "quinn", item=unit.serial, reason="burnt winding, not worth a repair")
        floor.note(scrapped_units=(*floor.works.scrapped_units, unit.serial))
