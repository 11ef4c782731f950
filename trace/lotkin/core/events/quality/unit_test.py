"""`test`: the readings of a unit on a test rig, judged by the plan."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal, NamedTuple, Self

from pydantic import Field

from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Code, Event, Reading, Text
from lotkin.core.events.parts.filled_in import FilledIn
from lotkin.core.events.quality.inspection import Measure
from lotkin.core.events.units.swap import check_out_of_carton
from lotkin.core.genealogy.unit_state import new_state
from lotkin.core.rules.fit_for_test import equipment_of, limits_of, planned_test, unfit_now
from lotkin.core.rules.leading import Mode
from lotkin.core.values.places import Spot

if TYPE_CHECKING:
    from decimal import Decimal

    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.genealogy.items import Item
    from lotkin.core.plan import UnitTestPlan
    from lotkin.core.rules.checking import Shop

__all__ = ["Test"]


class _Found(NamedTuple):
    """What a test names, and whether it allows a verdict."""

    unit: Item
    planned: UnitTestPlan | None
    limits: tuple[Decimal | None, Decimal | None]
    spot: Spot
    unfit: str
    resources: tuple[str, ...]
    is_equipment: bool


class Test(Event):
    """The readings of a unit on a test rig; it passes when all are within the limits of the plan.

    There is no verdict where the plan has no such test, or unit or rig do not fit.

    A unit that was used before (packed, shipped) becomes its next state by being tested again.
    """

    __test__ = False

    kind: Literal["test"] = "test"
    unit: Code
    name: Text
    readings: tuple[Reading, ...] = Field(min_length=1)
    measure_unit: Text = ""
    min: Reading | None = None
    max: Reading | None = None
    passed: Annotated[bool | None, FilledIn()] = Field(
        default=None,
        description="Filled in: whether all readings are within the limits; nothing: not judged",
    )
    unfit: Annotated[Text, FilledIn()] = Field(
        default="", description="Filled in: why unit or rig did not allow a verdict then"
    )
    resources: tuple[Code, ...] = Field(default=(), description="Test rig and gauges")
    place: Code | None = None
    within: Code | None = None
    state: Code | None = Field(default=None, description="Code of the next state, if needed")
    hold: Annotated[Text, FilledIn()] = Field(
        default="", description="Filled in: why the unit was held before"
    )

    def complete(self, shop: Shop) -> Self:
        """Find unit, rig and limits, judge the readings if all three fit, and spell it out."""
        found = self._find(shop)
        passed = self._judge(found, has_plan=shop.plan is not None)
        return self._spell_out(shop, found, passed=passed)

    def _find(self, shop: Shop) -> _Found:
        """Find the unit, its limits, and what it was tested with."""
        unit = shop.resolve(self.unit)
        if unit.kind != "unit":
            raise BadEvent(unit.code, "is not a unit; a lot is inspected")
        planned = planned_test(shop, unit, self.name)
        limits = limits_of(shop, unit, self, planned)
        spot = shop.spot_of(unit, self.place or "", self.within or "")
        unfit = self.unfit if shop.mode is Mode.AMENDED else unfit_now(shop, unit, self, spot)
        resources, is_equipment = equipment_of(shop, self.resources)
        return _Found(
            unit=unit,
            planned=planned,
            limits=limits,
            spot=spot,
            unfit=unfit,
            resources=resources,
            is_equipment=is_equipment,
        )

    def _judge(self, found: _Found, *, has_plan: bool) -> bool | None:
        """Tell whether the unit passed; None where nothing allows a verdict."""
        low, high = found.limits
        is_met = Measure(name=self.name, values=self.readings, min=low, max=high).is_met
        if found.planned is None or found.unfit or not found.is_equipment:
            # limits that somebody named can fail a unit where no plan is, never pass it
            return None if has_plan or is_met else False
        return is_met and len(self.readings) >= found.planned.readings

    def _spell_out(self, shop: Shop, found: _Found, *, passed: bool | None) -> Self:
        """Say what was judged by what, and the state of the unit from now on."""
        unit, spot, planned = found.unit, found.spot, found.planned
        state, held = self.state, self.hold
        if state is None and shop.mode is not Mode.AMENDED and shop.view.is_used(unit.code):
            state = shop.next_state(unit)
            check_out_of_carton(shop, unit, spot)
        if shop.mode is not Mode.AMENDED:
            held = shop.view.hold(unit.code) or ""
        return self.but(
            unit=unit.code,
            min=found.limits[0],
            max=found.limits[1],
            measure_unit=self.measure_unit or (planned.unit if planned else ""),
            passed=passed,
            unfit=found.unfit,
            resources=found.resources,
            place=spot.place,
            within=spot.within or None,
            state=state,
            hold=held,
        )

    def establish(self, draft: Draft) -> None:
        """Note the verdict; a failed unit is held, a passed one is freed from a failed test."""
        unit = self.state or self.unit
        if self.passed is not None:
            draft.fact("test", unit, name=self.name, passed=self.passed)
        if self.passed is False:
            draft.fact("hold", unit, reason=f"failed: {self.name}")
        elif self.passed and self.hold == f"failed: {self.name}":
            draft.fact("hold", unit, reason="")
        elif self.hold and self.state is not None:
            draft.fact("hold", unit, reason=self.hold)

    def derive(self, draft: Draft) -> None:
        """Link the rig to the unit, or to its next state."""
        spot = Spot(self.place or "", self.within or "")
        if self.state is not None:
            new_state(draft, draft.item(self.unit), self.state, spots=(spot, spot))
        for rig in self.resources:
            draft.expose(rig, self.state or self.unit)
