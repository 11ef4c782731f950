"""Recorded events are read differently: what changes, what is refused, what stays as it was."""

from __future__ import annotations

import pytest

from lotkin.core.errors import ChildBeforeParent
from tests.small_works import Works


def test_a_receipt_cannot_be_moved_behind_what_was_made_of_the_lot() -> None:
    works = Works()
    received = works.receive("S1", at=1)
    works.split("S1", {"S2": 5}, at=2)

    with pytest.raises(ChildBeforeParent):
        works.amend(received, at=3)
    works.amend(received, at=2)


def test_a_gauge_cannot_be_moved_behind_the_test_that_it_was_used_for() -> None:
    works = Works()
    works.receive("S1", at=1)
    works.build("U1", None, inputs={"S1": 1}, place="FLOOR", at=2)
    gauge = works.resource("GAUGE", "gauge", at=3)
    works.test("U1", resources=["GAUGE"], at=5)

    with pytest.raises(ChildBeforeParent):
        works.amend(gauge, at=6)
    works.amend(gauge, at=5)


def test_another_candidate_for_found_pieces_is_added_later() -> None:
    works = Works()
    for lot in ("S1", "S2", "S3"):
        works.receive(lot, 100)
    found = {"code": "F1", "candidates": ["S1", "S2"], "quantity": 4, "mixing": "one-of"}
    counted = works.do("count", place="SHELF", found=found)
    works.amend(counted, found={"candidates": ["S1", "S2", "S3"]})

    assert works.used("S3")["F1"].chance == pytest.approx(1 / 3, abs=1e-6)


def test_a_corrected_inspection_stays_with_the_lot_that_was_fresh_then() -> None:
    works = Works()
    works.receive("S1", 100)
    inspected = works.inspect("S1", "LOOK")
    works.split("S1", {"S2": 30})
    works.amend(inspected, note="seen by two")

    assert works.used("LOOK").keys() == {"S1", "S2"}
    assert works.stock("S1") == {"SHELF": 70, "used in": 30}


def test_a_corrected_test_makes_no_second_next_state_of_a_unit() -> None:
    works = Works()
    works.receive("S1", 100)
    works.resource("GAUGE", "gauge")
    works.build("U1", None, inputs={"S1": 1}, place="FLOOR")
    tested = works.test("U1", 0, resources=["GAUGE"])
    works.swap("U1", add={"S1": 1})
    works.amend(tested, readings=["0.5"])

    assert works.used("GAUGE").keys() == {"U1", "U1/2"}
    assert works.lines("S1") == {"FLOOR": 2, "SHELF": 98}
