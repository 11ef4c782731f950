"""What places are, read from the data of a plan alone."""

from __future__ import annotations

from lotkin.core.place_kinds import place_kinds
from lotkin.core.plan import parse_plan
from tests.small_works import PLAN


def test_the_kinds_of_places_are_those_of_the_plan() -> None:
    plan, _ = parse_plan(PLAN, "plan.toml")
    assert plan is not None
    assert {"supplier", "customer"} < {place.kind for place in plan.places().values()}

    found = place_kinds(plan.to_data())

    assert found == {code: place.kind for code, place in plan.places().items()}


def test_data_that_says_nothing_of_places_has_none() -> None:
    assert place_kinds({}) == {}
    assert place_kinds({"place": "STORE", "supplier": ["MILL"]}) == {}
