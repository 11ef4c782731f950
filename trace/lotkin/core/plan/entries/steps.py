"""The route of a part: its steps and what is measured in them."""

from __future__ import annotations

from pydantic import Field

from lotkin.core.plan.entries.entry import PlanEntry
from lotkin.core.plan.kinds import PartKind, ResourceKind, RunKind
from lotkin.core.plan.values import Code, Name, Note, Number, UnsignedNumber, YesNo

__all__ = ["MeasurePlan", "StepPlan"]


class MeasurePlan(PlanEntry):
    """`[[part.step.measure]]`: a feature that is measured in the step.

    Attributes:
        unit: Of the reading and of both limits, e.g. `mm`.
        min, max: Limits, inclusive; None means no limit on that side.
        required: Whether the step is incomplete without a reading.
    """

    name: Name
    unit: Name
    min: Number | None = None
    max: Number | None = None
    required: YesNo = True


class StepPlan(PlanEntry):
    """`[[part.step]]`: one step of the route, in the order of the file.

    Attributes:
        code: Unique in the part, e.g. `10`.
        run: Kind of run that does it.
        at: Code of the station; for an outside batch, of the supplier.
        output_kind: Kind of item that comes out; None means the part's own kind.
        resources: Kinds of resources that must be named for the run.
        inputs: Part codes that may go in besides the part itself from the step before.
        min_minutes, max_minutes, min_celsius, max_celsius: Limits of the run, inclusive.
        cautions: What the traveller warns of.
    """

    code: Code
    name: Name
    run: RunKind
    at: Code
    output_kind: PartKind | None = None
    resources: tuple[ResourceKind, ...] = ()
    inputs: tuple[Code, ...] = ()
    min_minutes: UnsignedNumber | None = None
    max_minutes: UnsignedNumber | None = None
    min_celsius: Number | None = None
    max_celsius: Number | None = None
    cautions: tuple[Note, ...] = ()
    measures: tuple[MeasurePlan, ...] = Field(default=(), alias="measure")
