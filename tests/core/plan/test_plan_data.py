"""The plan as plain data: there and back again, one spelling, and damage told."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest
from hypothesis import given

from lotkin.core.plan import PlanDataError, ShopPlan, check_plan
from lotkin.core.values.canonical import canonical
from tests.core.plan.plan_data import Row, plan_data
from tests.core.plan.small_shop import small_shop


def sound(data: object) -> ShopPlan:
    plan, problems = check_plan(data, "plan")
    assert problems == []
    assert plan is not None
    return plan


@given(plan_data())
def test_a_plan_comes_back_from_its_data_unchanged(data: Row) -> None:
    plan = sound(data)
    text = canonical(plan.to_data())
    again = ShopPlan.from_data(json.loads(text))
    assert again == plan
    assert hash(again) == hash(plan)
    assert canonical(again.to_data()) == text


@given(plan_data())
def test_the_data_of_a_sound_plan_passes_every_check_again(data: Row) -> None:
    plan = sound(data)
    assert sound(json.loads(canonical(plan.to_data()))) == plan


@given(plan_data())
def test_lookups_agree_with_the_lists(data: Row) -> None:
    plan = sound(data)
    assert [plan.part(part.code) for part in plan.parts] == list(plan.parts)
    assert [plan.bench(bench.code) for bench in plan.benches] == list(plan.benches)
    assert [plan.person(person.code) for person in plan.people] == list(plan.people)
    assert [plan.resource(one.code) for one in plan.resources] == list(plan.resources)
    assert len(plan.places()) == sum(map(len, (plan.shop_places, plan.suppliers, plan.customers)))
    for part in plan.parts:
        steps = [plan.step(part.code, step.code) for step in part.steps]
        assert steps == list(part.steps)
        before = [plan.previous_step(part.code, step.code) for step in part.steps]
        assert before == [None, *part.steps][: len(part.steps)]
        assert plan.last_step(part.code) == (part.steps[-1] if part.steps else None)


def test_numbers_are_written_as_digits_only() -> None:
    text = canonical(small_shop().to_data())
    assert '"length_mm":"3000"' in text
    assert '"piece_mass_g":"41.25"' in text


@pytest.mark.parametrize("written", ["6", "6.0", "6.000000", "0.6E1", "60E-1"])
def test_equal_numbers_have_one_spelling(written: str) -> None:
    data = {
        "works": {"name": "W", "timezone": "UTC"},
        "part": [
            {"code": "A", "name": "A", "revision": "1", "kind": "heat", "unit": "kg"}
            | {"piece_mass_g": Decimal(written)}
        ],
    }
    assert '"piece_mass_g":"6"' in canonical(sound(data).to_data())


def test_the_smallest_number_is_not_written_in_powers_of_ten() -> None:
    data = {
        "works": {"name": "W", "timezone": "UTC"},
        "part": [
            {"code": "A", "name": "A", "revision": "1", "kind": "heat", "unit": "kg"}
            | {"piece_mass_g": Decimal("0.000001")}
        ],
    }
    assert '"piece_mass_g":"0.000001"' in canonical(sound(data).to_data())


def test_what_is_not_given_is_left_out_and_defaults_are_written_out() -> None:
    data = canonical(small_shop().to_data())
    assert "null" not in data
    assert '"required":true' in data


def test_damaged_data_is_refused_with_the_spot() -> None:
    data = small_shop().to_data()
    data["works"] = {"name": 3}
    with pytest.raises(PlanDataError) as caught:
        ShopPlan.from_data(data)
    error = caught.value
    assert error.kind == "plan-data-damaged"
    assert [spot for spot, _ in error.damage] == ["works.name", "works.timezone"]
    assert error.record == "works.name"
    assert error.message.startswith("the stored plan is damaged: works.name: ")
    assert error.message.endswith("(and 1 more)")
    assert error.hint == "load the plan again from its file"


def test_data_that_is_no_table_is_damage_too() -> None:
    with pytest.raises(PlanDataError, match="the stored plan is damaged: plan: "):
        ShopPlan.from_data([])  # type: ignore[arg-type]


def test_a_stored_plan_stays_readable_when_rules_across_entries_change() -> None:
    data = small_shop().to_data()
    data["supplier"] = []
    assert check_plan(data, "plan")[1] != []
    assert ShopPlan.from_data(data).supplier("ANODISER") is None
