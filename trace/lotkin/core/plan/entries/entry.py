"""The base of every table of the plan."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict

__all__ = ["PlanEntry"]


class PlanEntry(BaseModel):
    """One table of the plan: frozen, and without room for keys that nobody knows."""

    model_config = ConfigDict(frozen=True, extra="forbid")
