"""The stations at work: one desk for each device, made when it first scans."""

from __future__ import annotations

from threading import Lock
from typing import TYPE_CHECKING

from lotkin.core.errors import NoPlan, UnknownCode
from lotkin.uses.stations.served_station import StationDesk

if TYPE_CHECKING:
    from collections.abc import Callable
    from uuid import UUID

    from lotkin.core.plan import ShopPlan
    from lotkin.uses.stations.ports import CanScan

__all__ = ["Stations"]


class Stations:
    """All desks of a works."""

    def __init__(
        self, store: CanScan, plan: Callable[[], ShopPlan | None], clock: Callable[[], int]
    ) -> None:
        self._store, self._plan, self._clock = store, plan, clock
        self._lock = Lock()
        self._desks: dict[str, StationDesk] = {}

    def desk(self, place: str, device: UUID) -> StationDesk:
        """Give the desk of a device at a place.

        Raises:
            NoPlan: No plan is loaded.
            UnknownCode: The plan has no such place.
        """
        name = f"{place} {device}"
        with self._lock:
            known = self._desks.get(name)
            if known is None:
                plan = self._plan()
                if plan is None:
                    raise NoPlan
                if plan.place(place) is None:
                    raise UnknownCode(place, near=list(plan.places()))
                known = StationDesk(self._store, name, place, self._clock)
                self._desks[name] = known
            return known
