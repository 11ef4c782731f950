"""What a shop plan says of its places, read from its data alone; the plan itself loads slowly."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping

    from lotkin.core.canonical import Json

__all__ = ["NO_PLACES", "PlannedPlace", "PlannedPlaces", "planned_places"]

TABLES = (("place", ""), ("supplier", "supplier"), ("customer", "customer"))
"""Tables of a plan that hold places, and the kind of all in them; "" where each says its own."""


class PlannedPlace(NamedTuple):
    """A place: how people call it, and what it is."""

    name: str
    kind: str


class PlannedPlaces(NamedTuple):
    """The places of a plan.

    Attributes:
        by_code: In the order of `ShopPlan.places`.
        timezone: Of the works, as in the IANA database; "" for UTC.
    """

    by_code: Mapping[str, PlannedPlace]
    timezone: str

    def place(self, code: str) -> PlannedPlace | None:
        """Give a place; None for a code that the plan does not know."""
        return self.by_code.get(code)


NO_PLACES = PlannedPlaces({}, "")


def planned_places(data: Mapping[str, Json]) -> PlannedPlaces:
    """Read the places of a plan, as `ShopPlan.places` gives them.

    Args:
        data: A plan as `ShopPlan.to_data` writes it.

    Example:
        >>> found = planned_places({"place": [{"code": "S", "name": "Store", "kind": "shelf"}]})
        >>> found.place("S")
        PlannedPlace(name='Store', kind='shelf')
    """
    places: dict[str, PlannedPlace] = {}
    for table, kind in TABLES:
        entries = data.get(table)
        for entry in entries if isinstance(entries, list) else ():
            if isinstance(entry, dict):
                said = PlannedPlace(str(entry.get("name")), kind or str(entry.get("kind")))
                places[str(entry.get("code"))] = said
    works = data.get("works")
    return PlannedPlaces(
        places, str(works.get("timezone") or "") if isinstance(works, dict) else ""
    )
