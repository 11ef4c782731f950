"""Who acts at the command line: nobody proves it there, and it is said so."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_cli.opening import plan_in_force

if TYPE_CHECKING:
    from lotkin.uses.ports import CanRead
    from lotkin_answers.json_document import Data

__all__ = ["claimed", "claimed_data"]


def claimed(store: CanRead, by: str) -> str:
    """Name who acts, and say what of it was checked."""
    plan = plan_in_force(store)
    if plan is None or not plan.people:
        return f"{by} (not checked: no plan names people)"
    if not any(person.roles for person in plan.people):
        return f"{by} (role not checked: the plan gives nobody one)"
    return f"{by} (role claimed at the command line)"


def claimed_data(store: CanRead, by: str) -> Data:
    """Name who acts as data, and say what of it was checked; `claimed` says it in words."""
    plan = plan_in_force(store)
    has_roles = plan is not None and any(person.roles for person in plan.people)
    return {
        "by": by,
        "named_in_plan": plan is not None and plan.person(by) is not None,
        "role": {"claimed": has_roles, "checked": False},
    }
