"""`plan`: a revision of the shop plan comes into force."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, Self

from lotkin.core.errors import BadPlan
from lotkin.core.events.base import Event, JsonData
from lotkin.core.plan import check_plan

if TYPE_CHECKING:
    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["LoadPlan"]


class LoadPlan(Event):
    """The shop plan as it holds from now on; what is finished keeps its revision."""

    kind: Literal["plan"] = "plan"
    plan: JsonData

    def complete(self, shop: Shop) -> Self:  # noqa: ARG002 - a plan stands by itself
        """Check the plan as a whole, and write it in its one spelling.

        Raises:
            BadPlan: It has problems; all of them are listed.
        """
        plan, problems = check_plan(self.plan, "plan")
        if plan is None or problems:
            raise BadPlan("plan", [str(problem) for problem in problems])
        return self.but(plan=plan.to_data())

    def establish(self, draft: Draft) -> None:
        """Note that this revision came into force."""
        draft.fact("plan", "plan")
