"""Inspections and tests come after what they look at was made."""

from __future__ import annotations

import pytest

from lotkin.core.errors import ChildBeforeParent
from tests.small_works import Works


def test_a_lot_is_inspected_after_it_was_received() -> None:
    works = Works()
    works.receive("S1")
    works.inspect("S1", "LOOK")

    assert works.origin("S1").keys() == {"LOOK"}


def test_a_unit_is_tested_with_a_gauge_that_was_calibrated_after_the_unit_was_built() -> None:
    works = Works()
    works.receive("S1")
    works.build("U1", None, inputs={"S1": 1}, place="FLOOR")
    works.resource("GAUGE", "gauge")
    works.test("U1", resources=["GAUGE"])

    assert works.used("GAUGE")["U1"].certain


def test_what_is_made_of_an_inspected_lot_was_exposed_to_its_gauge() -> None:
    works = Works()
    works.receive("S1")
    works.resource("GAUGE", "gauge")
    works.inspect("S1", "LOOK", resources=["GAUGE"])
    works.split("S1", {"S2": 5})

    assert works.used("GAUGE").keys() == {"LOOK", "S1", "S2"}


def test_once_part_of_a_lot_was_used_only_the_rest_of_it_was_inspected() -> None:
    works = Works()
    works.receive("S1", 100)
    works.split("S1", {"S2": 30})
    works.inspect("S1", "LOOK")

    assert works.used("LOOK").keys() == {"S1/2"}
    assert works.stock("S1/2") == {"SHELF": 70}


def test_a_gauge_cannot_have_been_used_before_it_was_there() -> None:
    works = Works()
    works.receive("S1", at=1)
    works.build("U1", None, inputs={"S1": 1}, place="FLOOR", at=2)
    works.resource("GAUGE", "gauge", at=5)

    with pytest.raises(ChildBeforeParent):
        works.test("U1", resources=["GAUGE"], at=4)


def test_asking_for_a_lot_whose_rest_was_inspected_still_finds_what_was_made_of_it_before() -> None:
    works = Works()
    works.receive("S1", 100)
    works.split("S1", {"S2": 30})
    works.inspect("S1", "LOOK")
    works.split("S1", {"S3": 20})

    assert works.used("S1").keys() == {"S2", "S1/2", "S3"}
    assert works.lines("S1") == {"SHELF": 100}
