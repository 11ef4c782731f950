"""`plan`: a revision of the shop plan comes into force."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

from lotkin.core.events.base import Event

if TYPE_CHECKING:
    from lotkin.core.draft import Draft

__all__ = ["LoadPlan"]


class LoadPlan(Event):
    """The shop plan as it holds from now on; what is finished keeps its revision."""

    kind: Literal["plan"] = "plan"
    plan: dict[str, Any]

    def establish(self, draft: Draft) -> None:
        """Note that this revision came into force."""
        draft.fact("plan", "plan")
