"""What was done once, to some material: the run of a machine, a print, a load of an oven."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from lotkin.core.events.base import Code, Instant, PartOfEvent, Reading

__all__ = ["Run"]


class Run(PartOfEvent):
    """Something done once, to some material, with some resources."""

    code: Code
    run_kind: Literal["machining-run", "print-build", "finishing-load", "outside-batch"]
    resources: tuple[Code, ...] = ()
    started: Instant | None = None
    celsius: Reading | None = Field(default=None, description="Temperature held, °C")
    measures: dict[str, Reading] = Field(default_factory=dict)
