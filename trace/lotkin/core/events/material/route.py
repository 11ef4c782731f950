"""The route of a part: whether a run did what the step of the plan asks for."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from lotkin.core.errors import BadEvent
from lotkin.core.values.amounts import show_limits
from lotkin.core.values.instants import to_us

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from lotkin.core.events.parts.inputs import Taken
    from lotkin.core.events.parts.outputs import Output
    from lotkin.core.events.parts.run import Run
    from lotkin.core.plan import MeasurePlan, PartPlan, ShopPlan, StepPlan
    from lotkin.core.rules.checking import Shop

__all__ = ["check_step"]

US_PER_MINUTE = 60_000_000


class Made(Protocol):
    """What was made in a run."""

    @property
    def at_us(self) -> int: ...

    @property
    def step(self) -> str: ...

    @property
    def run(self) -> Run | None: ...

    @property
    def inputs(self) -> tuple[Taken, ...]: ...

    @property
    def outputs(self) -> tuple[Output, ...]: ...


def check_step(shop: Shop, event: Made) -> None:
    """Check a run against the step of the plan that it names: inputs, resources, time, values.

    Raises:
        BadEvent: The part's route has no such step.
        RuleBroken: A rule of the step is broken (asked events only).
    """
    if shop.plan is None:
        return
    steps = _steps(shop, shop.plan, event)
    _check_materials(shop, shop.plan, event, {output.code for _, _, output in steps})
    if not steps:
        return
    for taken in event.inputs:
        _check_input(
            shop,
            shop.plan,
            taken,
            [
                (part, step)
                for part, step, output in steps
                if not output.of or taken.item in output.of
            ],
        )
    if event.run is not None:
        _, step, output = steps[0]
        _check_resources(shop, event.run, output.code, step)
        _check_times(shop, event, step)
        _check_temperature(shop, event.run, event.outputs[0].code, step)
        for measure in step.measures:
            _check_measure(shop, event.run, output.code, measure)


def _steps(shop: Shop, plan: ShopPlan, event: Made) -> list[tuple[PartPlan, StepPlan, Output]]:
    """Find the step of each output whose part has a route."""
    found = []
    for output in event.outputs:
        part = plan.part(output.part)
        if part is None or not part.steps:
            continue
        known = ", ".join(step.code for step in part.steps)
        if not event.step:
            shop.breach(
                "step-not-said",
                output.code,
                f"{output.code}: {part.code} is made by steps; say which one this was",
                hint=f"steps in the plan: {known}",
            )
            continue
        step = plan.step(part.code, event.step)
        if step is not None:
            found.append((part, step, output))
        elif output is event.outputs[0]:
            raise BadEvent(
                output.code,
                f"{part.code} has no step {event.step}",
                hint=f"steps in the plan: {known}",
            )
    return found


def _check_materials(shop: Shop, plan: ShopPlan, event: Made, routed: Collection[str]) -> None:
    """Check that what no step of a route makes is made of the material that the plan names."""
    for output in event.outputs:
        made = plan.part(output.part)
        if made is None or made.material is None or output.code in routed:
            continue
        for taken in event.inputs:
            used = plan.part(shop.exact(taken.item).part)
            if used is None or used.material is None or (output.of and taken.item not in output.of):
                continue
            if _spelt(used.material) != _spelt(made.material):
                shop.breach(
                    "wrong-material",
                    output.code,
                    f"{output.code} is {made.code} of {made.material}, "
                    f"but {taken.item} is {used.material}",
                    hint="scan the right lot, or correct the part",
                )


def _spelt(material: str) -> str:
    return "".join(material.split()).casefold()


def _check_input(
    shop: Shop, plan: ShopPlan, taken: Taken, steps: Sequence[tuple[PartPlan, StepPlan]]
) -> None:
    """Check that an input is one that a step takes, and has passed the step before."""
    item = shop.exact(taken.item)
    if not steps:
        return
    for part, step in steps:
        if item.part == part.code and item.part not in step.inputs:
            before = plan.previous_step(part.code, step.code)
            wanted = before.code if before is not None else ""
            if item.step != wanted:
                shop.breach(
                    "wrong-step",
                    item.code,
                    f"{item.code} has passed step {item.step or 'none'}, "
                    f"but step {step.code} follows step {wanted or 'none'}",
                    hint="record the step in between, or scan the right lot",
                )
            return
        if item.part in step.inputs:
            return
    part, step = steps[0]
    shop.breach(
        "wrong-part",
        item.code,
        f"{item.code} is {item.part}, which step {step.code} of {part.code} does not take",
        hint=f"it takes {', '.join(step.inputs) or part.code}",
    )


def _check_resources(shop: Shop, run: Run, record: str, step: StepPlan) -> None:
    kinds: Sequence[str] = [shop.exact(code).kind for code in run.resources]
    missing = [kind for kind in step.resources if kind not in kinds]
    if missing:
        shop.breach(
            "resource-missing",
            record,
            f"{record}: step {step.code} needs {', '.join(missing)}",
            hint="scan what was used",
        )
    if step.run != run.run_kind:
        shop.breach(
            "wrong-step",
            record,
            f"{record}: step {step.code} is a {step.run}, not a {run.run_kind}",
        )


def _check_times(shop: Shop, event: Made, step: StepPlan) -> None:
    run = event.run
    assert run is not None
    record = event.outputs[0].code
    if run.started is not None:
        minutes = (event.at_us - to_us(run.started)) / US_PER_MINUTE
        if minutes < 0:
            raise BadEvent(record, "the run was started after it ended")
        if step.min_minutes is not None and minutes < step.min_minutes:
            shop.breach(
                "too-short",
                record,
                f"{record}: {minutes:.0f} minutes, step {step.code} needs {step.min_minutes}",
            )
        if step.max_minutes is not None and minutes > step.max_minutes:
            shop.breach(
                "too-long",
                record,
                f"{record}: {minutes:.0f} minutes, step {step.code} allows {step.max_minutes}",
            )
    elif step.min_minutes is not None or step.max_minutes is not None:
        shop.breach("not-timed", record, f"{record}: step {step.code} is timed; say when it began")


def _check_temperature(shop: Shop, run: Run, record: str, step: StepPlan) -> None:
    low, high = step.min_celsius, step.max_celsius
    if run.celsius is None:
        if low is not None or high is not None:
            shop.breach("not-measured", record, f"{record}: step {step.code} needs a temperature")
    elif (low is not None and run.celsius < low) or (high is not None and run.celsius > high):
        said = f"{run.celsius} °C is outside of what step {step.code} allows"
        shop.breach("wrong-temperature", record, f"{record}: {said}")
        shop.hold_what_is_made(said)


def _check_measure(shop: Shop, run: Run, record: str, measure: MeasurePlan) -> None:
    value = run.measures.get(measure.name)
    if value is None:
        if measure.required:
            shop.breach("not-measured", record, f"{record}: {measure.name} was not measured")
        return
    low_ok = measure.min is None or value >= measure.min
    if not low_ok or (measure.max is not None and value > measure.max):
        limits = show_limits(measure.min, measure.max, measure.unit)
        said = f"{measure.name} is {value:f} {measure.unit}, the plan asks for {limits}"
        shop.breach(
            "out-of-limits",
            record,
            f"{record}: {said}",
            hint="measure again; a lot that is so is reported, and held until it is inspected",
        )
        shop.hold_what_is_made(said)
