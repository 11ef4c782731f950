"""What a shop plan says of its places, read from its data alone; the plan itself loads slowly."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple, Protocol

from lotkin.core.values.places import IMPORTED

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Mapping

    from lotkin.core.values.canonical import Json

    class HasKind(Protocol):
        """A place of a plan."""

        @property
        def kind(self) -> str:
            """What it is."""

    class KnowsPlaces(Protocol):
        """A plan, or what it says of its places."""

        def place(self, code: str) -> HasKind | None:
            """Give a place; None for a code that it does not know."""


__all__ = ["NO_PLACES", "PlannedPlace", "PlannedPlaces", "kind_of_place", "planned_places"]

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


def kind_of_place(
    code: str, plan: KnowsPlaces | None, shipped_to: Callable[[], Collection[str]]
) -> str:
    """Tell what a place is: what the plan says, else a customer if anything was shipped there.

    Args:
        code: Of the place; no end.
        plan: What is in force; None for no plan.
        shipped_to: Gives the places that shipments went to; asked only where the plan is silent.

    Returns:
        A kind of the plan; "" where the kind is not known.

    Example:
        >>> kind_of_place("NEWCUST", None, lambda: {"NEWCUST"})
        'customer'
        >>> kind_of_place("BARN", None, lambda: {"NEWCUST"})
        ''
    """
    planned = plan.place(code) if plan is not None else None
    if planned is not None:
        return planned.kind
    if code == IMPORTED:
        return ""
    return "customer" if code in shipped_to() else ""
