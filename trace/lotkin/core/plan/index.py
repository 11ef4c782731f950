"""Lookups by code over a plan."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple, Protocol, TypeVar

from lotkin.core.plan.entries.places import BenchPlan, CustomerPlan, PlacePlan, SupplierPlan

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from lotkin.core.plan.entries.parts import PartPlan
    from lotkin.core.plan.entries.places import ShopPlacePlan
    from lotkin.core.plan.entries.resources import ResourcePlan
    from lotkin.core.plan.entries.steps import StepPlan
    from lotkin.core.plan.entries.works import PersonPlan

__all__ = ["PlanIndex", "RouteStep", "index_plan"]


class _Coded(Protocol):
    @property
    def code(self) -> str: ...


_Entry = TypeVar("_Entry", bound=_Coded)


class _Tables(Protocol):
    """The tables of a plan."""

    @property
    def people(self) -> Sequence[PersonPlan]: ...

    @property
    def shop_places(self) -> Sequence[ShopPlacePlan]: ...

    @property
    def suppliers(self) -> Sequence[SupplierPlan]: ...

    @property
    def customers(self) -> Sequence[CustomerPlan]: ...

    @property
    def resources(self) -> Sequence[ResourcePlan]: ...

    @property
    def parts(self) -> Sequence[PartPlan]: ...

    @property
    def benches(self) -> Sequence[BenchPlan]: ...


class RouteStep(NamedTuple):
    """A step with the one before it; None for the first."""

    step: StepPlan
    previous: StepPlan | None


@dataclass(frozen=True, slots=True)
class PlanIndex:
    """The entries of a plan by code; `steps` by (part code, step code)."""

    people: Mapping[str, PersonPlan]
    places: Mapping[str, PlacePlan]
    suppliers: Mapping[str, SupplierPlan]
    customers: Mapping[str, CustomerPlan]
    resources: Mapping[str, ResourcePlan]
    parts: Mapping[str, PartPlan]
    benches: Mapping[str, BenchPlan]
    steps: Mapping[tuple[str, str], RouteStep]


def index_plan(plan: _Tables) -> PlanIndex:
    """Index a plan.

    Complexity: O(entries).
    """
    return PlanIndex(
        people=_by_code(plan.people),
        places=_by_code(_places(plan)),
        suppliers=_by_code(plan.suppliers),
        customers=_by_code(plan.customers),
        resources=_by_code(plan.resources),
        parts=_by_code(plan.parts),
        benches=_by_code(plan.benches),
        steps=dict(_steps(plan)),
    )


def _by_code(entries: Iterable[_Entry]) -> Mapping[str, _Entry]:
    return {entry.code: entry for entry in entries}


def _places(plan: _Tables) -> Iterator[PlacePlan]:
    for place in plan.shop_places:
        yield PlacePlan(code=place.code, name=place.name, kind=place.kind)
    for supplier in plan.suppliers:
        yield PlacePlan(code=supplier.code, name=supplier.name, kind="supplier")
    for customer in plan.customers:
        yield PlacePlan(code=customer.code, name=customer.name, kind="customer")


def _steps(plan: _Tables) -> Iterator[tuple[tuple[str, str], RouteStep]]:
    for part in plan.parts:
        previous = None
        for step in part.steps:
            yield (part.code, step.code), RouteStep(step, previous)
            previous = step
