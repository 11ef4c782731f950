"""Lookups by code, and what the plan answers for codes that it does not know."""

from __future__ import annotations

import copy
import pickle
from decimal import Decimal
from typing import get_args

import pytest
from pydantic import ValidationError

from lotkin.core.plan import PartKind, PlaceKind, ResourceKind, RunKind, ShopPlaceKind, Unit
from lotkin.core.values.kinds import KINDS, UNITS, Family
from tests.core.plan.small_shop import small_shop


def test_entries_are_found_by_their_code() -> None:
    plan = small_shop()
    found = [
        plan.person("ANN"),
        plan.place("RACK"),
        plan.supplier("ANODISER"),
        plan.customer("CLINIC"),
        plan.resource("LATHE"),
        plan.part("HEAD"),
        plan.bench("BENCH-1"),
    ]
    assert [entry and entry.name for entry in found] == [
        "Ann Example",
        "Rack",
        "Colour Anodising",
        "City clinic",
        "Lathe",
        "Pump head",
        "First bench",
    ]


def test_an_unknown_code_is_answered_with_none() -> None:
    plan = small_shop()
    lookups = [
        plan.person,
        plan.place,
        plan.supplier,
        plan.customer,
        plan.resource,
        plan.part,
        plan.bench,
        plan.last_step,
    ]
    assert [look("NOBODY") for look in lookups] == [None] * len(lookups)
    assert plan.step("HEAD", "99") is None
    assert plan.step("NOBODY", "10") is None
    assert plan.previous_step("HEAD", "99") is None
    assert plan.output_kind("HEAD", "99") is None


def test_suppliers_and_customers_are_places_too() -> None:
    places = small_shop().places()
    assert {code: place.kind for code, place in places.items()} == {
        "RACK": "shelf",
        "TURN-1": "station",
        "BUILD": "station",
        "RED-BOX": "quarantine",
        "ANODISER": "supplier",
        "CLINIC": "customer",
    }


def test_a_bench_is_no_place_of_its_own() -> None:
    assert small_shop().place("BENCH-1") is None


def test_a_route_is_walked_from_step_to_step() -> None:
    plan = small_shop()
    turning, anodising = plan.step("HEAD", "10"), plan.step("HEAD", "20")
    assert turning is not None
    assert turning.at == "TURN-1"
    assert plan.previous_step("HEAD", "20") == turning
    assert plan.previous_step("HEAD", "10") is None
    assert plan.last_step("HEAD") == anodising


def test_what_is_bought_has_no_last_step() -> None:
    assert small_shop().last_step("SCREW-M3X8") is None


def test_a_step_brings_forth_its_own_kind_or_else_that_of_the_part() -> None:
    plan = small_shop()
    assert plan.output_kind("HEAD", "10") == "machined-lot"
    assert plan.output_kind("HEAD", "20") == "treated-lot"


def test_numbers_are_exact() -> None:
    head = small_shop().part("HEAD")
    assert head is not None
    assert head.piece_mass_g == Decimal("41.25")
    assert head.steps[0].measures[0].max == Decimal("10.02")


def test_a_plan_cannot_be_changed() -> None:
    plan = small_shop()
    with pytest.raises(ValidationError, match="frozen"):
        setattr(plan.works, "name", "Other")  # noqa: B010 - mypy refuses the plain assignment


def test_equal_plans_have_equal_hashes_whether_searched_or_not() -> None:
    searched, fresh = small_shop(), small_shop()
    assert searched.part("HEAD") is not None
    assert searched == fresh
    assert hash(searched) == hash(fresh)


def test_a_changed_copy_looks_up_its_own_entries() -> None:
    plan = small_shop()
    assert plan.part("HEAD") is not None
    assert plan.model_copy(update={"parts": ()}).part("HEAD") is None


def test_a_plan_survives_copying_and_pickling() -> None:
    plan = small_shop()
    assert plan.place("RACK") is not None
    assert copy.deepcopy(plan).place("RACK") == plan.place("RACK")
    assert pickle.loads(pickle.dumps(plan)) == plan


def test_the_plan_uses_the_words_of_the_core_for_kinds_and_units() -> None:
    assert set(get_args(PartKind)) == set(KINDS[Family.MATERIAL]) - {"bench-setup"}
    assert get_args(RunKind) == KINDS[Family.RUN]
    assert get_args(ResourceKind) == KINDS[Family.RESOURCE]
    assert get_args(Unit) == UNITS
    assert set(get_args(PlaceKind)) == {*get_args(ShopPlaceKind), "supplier", "customer"}
