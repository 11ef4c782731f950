"""Cartons take along what they hold, wherever they go, cartons in cartons included."""

from __future__ import annotations

import pytest

from lotkin.uses.asking.contain import contain
from tests.laws import check_conserved, check_records
from tests.small_works import PLAN, Works


def boxed() -> Works:
    """Put five screws into carton C1, and that into carton C2."""
    works = Works(plan=PLAN)
    works.receive("S1", 5)
    works.pack("C1", "S1")
    works.pack("C2", "C1")
    return works


def test_pieces_in_a_carton_in_a_carton_are_with_the_customer_once_it_is_shipped() -> None:
    works = boxed()
    works.ship("SHIP-1", "C2")

    assert works.stock("S1") == {"CLINIC (C1)": 5}
    assert [row.code for row in contain(works.store, ["S1"]).customers["CLINIC"]] == [
        "S1",
        "C1",
        "C2",
    ]
    check_records(works)


def test_a_carton_that_is_moved_takes_along_what_is_in_it() -> None:
    works = boxed()
    works.do("move", item="C2", to_place="FLOOR")

    assert works.stock("S1") == {"FLOOR (C1)": 5}
    assert works.stock("C1") == {"FLOOR (C2)": 1}


def test_a_carton_packed_into_another_at_another_place_takes_along_what_is_in_it() -> None:
    works = Works(plan=PLAN)
    works.receive("S1", 5)
    works.pack("C1", "S1")
    works.pack("C2", "C1", place="FLOOR")

    assert works.stock("S1") == {"FLOOR (C1)": 5}


def test_a_carton_that_is_taken_out_of_another_takes_along_what_is_in_it() -> None:
    works = boxed()
    works.do("unpack", carton="C2", item="C1", to_place="FLOOR")

    assert works.stock("S1") == {"FLOOR (C1)": 5}
    assert works.stock("C1") == {"FLOOR": 1}
    assert works.used("C1") == {}


def test_a_carton_that_comes_back_unopened_brings_what_is_in_it_and_all_is_held() -> None:
    works = boxed()
    works.ship("SHIP-1", "C2")
    works.do("return", item="C2", to_place="RED-BOX", reason="not ordered")

    assert works.stock("S1") == {"RED-BOX (C1)": 5}
    assert works.stock("C2") == {"RED-BOX": 1}
    assert contain(works.store, ["S1"]).customers == {}
    assert all(row.held for row in contain(works.store, ["S1"]).subject_rows)
    check_records(works)
    check_conserved(works)


@pytest.mark.parametrize("quantity", [1, 3])
def test_pieces_taken_out_leave_the_rest_with_the_carton(quantity: int) -> None:
    works = Works(plan=PLAN)
    works.receive("S1", 5)
    works.pack("C1", "S1")
    works.do("unpack", carton="C1", item="S1", quantity=quantity)
    works.ship("SHIP-1", "C1")

    assert works.stock("S1") == {"SHELF": quantity, "CLINIC (C1)": 5 - quantity}
    with works.store.reading() as view:
        assert [link.quantity for link in view.parents("C1")] == [(5 - quantity) * 1_000_000]
