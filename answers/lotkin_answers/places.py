"""Places as people call them: their codes with the names of the plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.amounts import show_micro
from lotkin.core.values.zone import zone_of

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import tzinfo

    from lotkin.core.answers.rows import Here
    from lotkin.core.plan import ShopPlan
    from lotkin.core.values.planned_places import PlannedPlaces

__all__ = ["Places"]


class Places:
    """Names of places, and the time zone of the works."""

    def __init__(self, plan: ShopPlan | PlannedPlaces | None) -> None:
        self._plan = plan

    def name(self, code: str) -> str:
        """Give the name of a place; "" if the plan has none."""
        place = self._plan.place(code) if self._plan is not None else None
        return place.name if place is not None else ""

    def titled(self, code: str) -> str:
        """Give code and name."""
        name = self.name(code)
        return f"{code} ({name})" if name else code

    @property
    def zone(self) -> tzinfo | None:
        """The time zone of the works; None for UTC."""
        return None if self._plan is None else zone_of(self._plan.timezone)

    @staticmethod
    def where(at: Iterable[Here], unit: str) -> str:
        """Say where pieces are, e.g. `STORE 12 pcs, CARTON-3 at PACK 4 pcs`."""
        return ", ".join(
            f"{here.within + ' at ' if here.within else ''}{here.place} "
            f"{show_micro(here.quantity, unit)}"
            for here in at
        )
