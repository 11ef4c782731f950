"""The shop plan as a whole: its tables, lookups by code, and its form as plain data."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Self

from pydantic import Field, ValidationError

from lotkin.core.plan.entries.entry import PlanEntry
from lotkin.core.plan.entries.parts import PartPlan
from lotkin.core.plan.entries.places import (
    BenchPlan,
    CustomerPlan,
    PlacePlan,
    ShopPlacePlan,
    SupplierPlan,
)
from lotkin.core.plan.entries.resources import ResourcePlan
from lotkin.core.plan.entries.steps import StepPlan
from lotkin.core.plan.entries.works import PersonPlan, WorksPlan
from lotkin.core.plan.file.problems import PlanDataError
from lotkin.core.plan.index import PlanIndex, index_plan
from lotkin.core.values.planned_places import PlannedPlace, PlannedPlaces

if TYPE_CHECKING:
    from collections.abc import Mapping

    from lotkin.core.plan.kinds import PartKind
    from lotkin.core.values.canonical import Json

__all__ = ["ShopPlan"]


class ShopPlan(PlanEntry):
    """What the works makes, of what, where, with what and by whom.

    Every lookup answers None for a code that the plan does not know. The first one indexes the
    plan, O(entries); after that each is O(1).
    """

    works: WorksPlan
    people: tuple[PersonPlan, ...] = Field(default=(), alias="person")
    shop_places: tuple[ShopPlacePlan, ...] = Field(default=(), alias="place")
    suppliers: tuple[SupplierPlan, ...] = Field(default=(), alias="supplier")
    customers: tuple[CustomerPlan, ...] = Field(default=(), alias="customer")
    resources: tuple[ResourcePlan, ...] = Field(default=(), alias="resource")
    parts: tuple[PartPlan, ...] = Field(default=(), alias="part")
    benches: tuple[BenchPlan, ...] = Field(default=(), alias="bench")

    @cached_property
    def _index(self) -> PlanIndex:
        return index_plan(self)

    @property
    def timezone(self) -> str:
        """The time zone of the works, as in the IANA database."""
        return self.works.timezone

    def person(self, code: str) -> PersonPlan | None:
        """Give a person."""
        return self._index.people.get(code)

    def place(self, code: str) -> PlacePlan | None:
        """Give a place; suppliers and customers are places too."""
        return self._index.places.get(code)

    def places(self) -> Mapping[str, PlacePlan]:
        """Give all places by code: those of the works, then suppliers, then customers."""
        return self._index.places

    def planned_places(self) -> PlannedPlaces:
        """Give the places and the time zone alone."""
        places = self.places().values()
        by_code = {place.code: PlannedPlace(place.name, place.kind) for place in places}
        return PlannedPlaces(by_code, self.timezone)

    def supplier(self, code: str) -> SupplierPlan | None:
        """Give a supplier."""
        return self._index.suppliers.get(code)

    def customer(self, code: str) -> CustomerPlan | None:
        """Give a customer."""
        return self._index.customers.get(code)

    def resource(self, code: str) -> ResourcePlan | None:
        """Give a resource."""
        return self._index.resources.get(code)

    def bench(self, code: str) -> BenchPlan | None:
        """Give a bench."""
        return self._index.benches.get(code)

    def part(self, code: str) -> PartPlan | None:
        """Give a part or material."""
        return self._index.parts.get(code)

    def step(self, part: str, step: str) -> StepPlan | None:
        """Give a step of a part's route."""
        found = self._index.steps.get((part, step))
        return None if found is None else found.step

    def previous_step(self, part: str, step: str) -> StepPlan | None:
        """Give the step before a step; None also if it is the first."""
        found = self._index.steps.get((part, step))
        return None if found is None else found.previous

    def last_step(self, part: str) -> StepPlan | None:
        """Give the last step of a part's route; None also if it has no route."""
        found = self.part(part)
        return found.steps[-1] if found is not None and found.steps else None

    def output_kind(self, part: str, step: str) -> PartKind | None:
        """Give the kind of item that a step brings forth: the step's own, else the part's."""
        found, owner = self.step(part, step), self.part(part)
        if found is None or owner is None:
            return None
        return found.output_kind or owner.kind

    def to_data(self) -> dict[str, Json]:
        """Write the plan as JSON values under the keys of the file.

        Numbers that may have decimals are texts; what is not given is left out, what has a
        default is written out, so that the data keeps its meaning should a default change.
        """
        return self.model_dump(mode="json", by_alias=True, exclude_none=True)

    @classmethod
    def from_data(cls, data: Mapping[str, object]) -> Self:
        """Read a plan back from `to_data`.

        Checks every entry for itself, but not the entries against each other: a plan that was
        accepted once stays readable when rules become stricter.

        Raises:
            PlanDataError: The data is not that of a plan.
        """
        try:
            return cls.model_validate(data)
        except ValidationError as err:
            damage = [
                (".".join(str(step) for step in found["loc"]) or "plan", found["msg"])
                for found in err.errors(include_url=False, include_input=False)
            ]
            raise PlanDataError(damage) from err

    def model_copy(self, *, update: Mapping[str, object] | None = None, deep: bool = False) -> Self:
        """Copy the plan; the copy makes its own index."""
        copy = super().model_copy(update=update, deep=deep)
        copy.__dict__.pop("_index", None)
        return copy
