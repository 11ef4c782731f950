"""What a plan says of its places, read from its data alone."""

from __future__ import annotations

from lotkin.core.plan import parse_plan
from lotkin.core.values.planned_places import NO_PLACES, planned_places
from tests.small_works import PLAN


def test_places_are_those_of_the_plan() -> None:
    plan, _ = parse_plan(PLAN, "plan.toml")
    assert plan is not None
    assert {"supplier", "customer"} < {place.kind for place in plan.places().values()}

    found = planned_places(plan.to_data())

    assert found == plan.planned_places()
    assert {code: tuple(place) for code, place in found.by_code.items()} == {
        code: (place.name, place.kind) for code, place in plan.places().items()
    }


def test_data_that_says_nothing_of_places_has_none() -> None:
    assert planned_places({}) == NO_PLACES
    assert planned_places({"place": "STORE", "supplier": ["MILL"], "works": "X"}) == NO_PLACES
