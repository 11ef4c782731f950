"""Places inside and outside the works, and the benches at its stations."""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator, Field
from pydantic_core import PydanticCustomError

from lotkin.core.plan.entries.entry import PlanEntry
from lotkin.core.plan.kinds import PlaceKind, ShopPlaceKind
from lotkin.core.plan.values import PLAIN, Code, Country, Name, PositiveNumber
from lotkin.core.values.places import END_NAMES

__all__ = [
    "BenchPlan",
    "BenchPositionPlan",
    "CustomerPlan",
    "PlacePlan",
    "ShopPlacePlan",
    "SupplierPlan",
]


def _not_an_end(code: str) -> str:
    if code in END_NAMES:
        raise PydanticCustomError(
            PLAIN, "is kept for pieces that are gone; give the place another code"
        )
    return code


PlaceCode = Annotated[Code, AfterValidator(_not_an_end)]


class PlacePlan(PlanEntry):
    """Anywhere pieces can be: what `ShopPlan.places` gives, suppliers and customers included."""

    code: Code
    name: Name
    kind: PlaceKind


class ShopPlacePlan(PlanEntry):
    """`[[place]]`: a place inside the works."""

    code: PlaceCode
    name: Name
    kind: ShopPlaceKind


class SupplierPlan(PlanEntry):
    """`[[supplier]]`: who sends material or works on it outside.

    Attributes:
        services: What lots are sent to them for, in the words of the works. Nothing may be sent
            for anything else; where it is left out, for anything.
    """

    code: PlaceCode
    name: Name
    services: tuple[Name, ...] = ()


class CustomerPlan(PlanEntry):
    """`[[customer]]`: who gets shipments.

    Attributes:
        country: ISO 3166-1 alpha-2; stands on the notice to them and in the table of notices.
    """

    code: PlaceCode
    name: Name
    country: Country | None = None


class BenchPositionPlan(PlanEntry):
    """`[[bench.position]]`: a spot of a bench where one item is mounted.

    Attributes:
        part: What is mounted there.
        per: How much of it one unit takes, in the part's unit.
    """

    code: Code
    part: Code
    per: PositiveNumber


class BenchPlan(PlanEntry):
    """`[[bench]]`: where units are built from mounted lots.

    Attributes:
        place: Code of the station that it is in.
    """

    code: PlaceCode
    name: Name
    place: Code
    positions: tuple[BenchPositionPlan, ...] = Field(default=(), alias="position")
