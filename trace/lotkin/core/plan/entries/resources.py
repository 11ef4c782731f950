"""Machines, tools, gauges, baths, programs and fixtures."""

from __future__ import annotations

from lotkin.core.plan.entries.entry import PlanEntry
from lotkin.core.plan.kinds import ResourceKind
from lotkin.core.plan.values import Code, Days, Name

__all__ = ["ResourcePlan"]


class ResourcePlan(PlanEntry):
    """`[[resource]]`: something that runs use.

    Attributes:
        calibration_days: Days from one calibration to the next; gauges only.
    """

    code: Code
    name: Name
    kind: ResourceKind
    calibration_days: Days | None = None
