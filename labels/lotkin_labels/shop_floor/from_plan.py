"""Travellers made from the shop plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.plan.bar_yield import bars_for, say_yield
from lotkin.core.rules.known_otherwise import not_in_plan
from lotkin.core.scan.commands import write_traveller_step
from lotkin.core.values.amounts import show_limits
from lotkin.core.values.quantities import MICRO, show_quantity
from lotkin_answers.words import counted
from lotkin_labels.paper.wording import show_kind
from lotkin_labels.shop_floor.traveller import Traveller, TravellerMeasure, TravellerRow

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.plan import BarPlan, PartPlan, ShopPlan, StepPlan

__all__ = ["make_traveller"]


def make_traveller(
    code: str,
    part: str,
    plan: ShopPlan,
    *,
    quantity: int | None = None,
    issued_on: str = "",
) -> Traveller:
    """Make the traveller for a quantity of a part along its route.

    Args:
        code: Of the traveller.
        part: Code of the part.
        quantity: Millionths of the part's unit; None leaves room to write it in.
        issued_on: Day per ISO 8601.

    Raises:
        UnknownCode: The plan has no such part.
    """
    found = plan.part(part)
    if found is None:
        raise not_in_plan(part, "part", [each.code for each in plan.parts], plan)
    return Traveller(
        code=code,
        part=found.code,
        rows=tuple(_row(code, step, plan) for step in found.steps),
        works=plan.works.name,
        name=found.name,
        revision=found.revision,
        quantity="" if quantity is None else show_quantity(quantity, found.unit),
        materials=tuple(_materials(found, plan)),
        bars="" if found.bar is None else _bars(found.bar, quantity),
        cautions=found.cautions,
        tests=tuple(
            TravellerMeasure(
                name=f"{test.name}, {test.readings} reading{'s' if test.readings > 1 else ''}",
                limits=show_limits(test.min, test.max, test.unit),
            )
            for test in found.tests
        ),
        issued_on=issued_on,
    )


def _materials(part: PartPlan, plan: ShopPlan) -> Iterator[str]:
    """Name what the part may be made of: its material, what the steps take, what it needs."""
    if part.material:
        yield part.material
    named: dict[str, str] = {}
    for step in part.steps:
        for code in step.inputs:
            named.setdefault(code, _titled(code, plan))
    for need in part.needs:
        named.setdefault(need.part, f"{_titled(need.part, plan)}, {need.per:f} per piece")
    yield from named.values()


def _bars(bar: BarPlan, quantity: int | None) -> str:
    """Say what a bar gives, and how many full bars the order needs."""
    needed = None if quantity is None else bars_for(bar, -(-quantity // MICRO))
    return say_yield(bar) + ("" if needed is None else f"; {counted(needed, 'full bar')} needed")


def _titled(code: str, plan: ShopPlan) -> str:
    """Write a part with its name, revision and material, as far as the plan knows them."""
    part = plan.part(code)
    if part is None:
        return code
    material = f", {part.material}" if part.material else ""
    certificate = f", certificate {part.certificate}" if part.certificate else ""
    return f"{code} {part.name} rev. {part.revision}{material}{certificate}"


def _row(traveller: str, step: StepPlan, plan: ShopPlan) -> TravellerRow:
    place = plan.place(step.at)
    named = f"{place.name} ({step.at})" if place is not None else step.at
    return TravellerRow(
        code=step.code,
        name=step.name,
        place=f"{show_kind(step.run)} at {named}",
        payload=write_traveller_step(traveller, step.code),
        takes=tuple(_titled(code, plan) for code in step.inputs),
        records=tuple(show_kind(kind) for kind in step.resources),
        measures=tuple(
            TravellerMeasure(
                name=measure.name,
                limits=show_limits(measure.min, measure.max, measure.unit) or measure.unit,
                is_required=measure.required,
            )
            for measure in step.measures
        ),
        minutes=show_limits(step.min_minutes, step.max_minutes, "minutes"),
        celsius=show_limits(step.min_celsius, step.max_celsius, "°C"),
        cautions=step.cautions,
        is_outside=step.run == "outside-batch",
    )
