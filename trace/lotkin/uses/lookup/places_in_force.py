"""The places of the plan in force, without the plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin.core.values.planned_places import PlannedPlaces
    from lotkin.uses.ports import CanRead

__all__ = ["places_in_force"]


def places_in_force(store: CanRead) -> PlannedPlaces | None:
    """Give the places of the plan in force; None if no plan was loaded."""
    with store.reading() as view:
        plan = view.plan_number()
        return view.planned_places(plan) if plan else None
