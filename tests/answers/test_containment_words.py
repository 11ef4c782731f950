"""What is said of customers, and of chances, is no more than the record says."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.where import Question
from lotkin_answers.containment_words import certain_and_possible, has_chances, no_customer
from tests.labels.reports.pump_works import pumps
from tests.small_works import Works

if TYPE_CHECKING:
    from lotkin.core.answers.containment import Containment


def found_in(works: Works, code: str) -> Containment:
    return contain(works.store, [code], Question())


def test_what_came_back_was_shipped_and_nothing_is_said_of_shipments() -> None:
    works = pumps(1, shipped=1)
    works.do("return", item="PUMP-0001", to_place="SHELF", reason="drips", hold=False)
    works.do("return", item="CARTON-1", to_place="SHELF", reason="empty", hold=False)
    assert no_customer(found_in(works, "RUN-1")) == "nothing"

    works = Works()
    works.receive("S1", 5, place="SHELF")
    works.ship("SHIP-1", {"S1": 2}, customer="HOME")
    works.do("return", item="S1", quantity=2, to_place="EXPO", reason="too many", hold=False)
    said = no_customer(found_in(works, "S1"))
    assert "EXPO" in said
    assert "shipment" not in said


def test_nothing_is_never_said_of_customers_where_a_place_is_not_known() -> None:
    works = Works()
    works.receive("S1", 5, place="EXPO")
    said = no_customer(found_in(works, "S1"))
    assert said == "no customer is known to have any; 1 lot at a place of unknown kind: EXPO"
    assert "nothing" not in no_customer(found_in(works, "S1"), is_narrowed=True)


def test_nothing_is_said_of_the_kinds_that_were_asked_for_alone() -> None:
    assert no_customer(found_in(pumps(1), "RUN-1"), is_narrowed=True) == "nothing of these kinds"


def test_what_chances_mean_is_said_only_where_there_are_any() -> None:
    works = pumps(2)
    found = found_in(works, "RUN-1")
    assert not has_chances(found)
    assert certain_and_possible(found) == (2, 0)

    works.receive("SCREWS-2", 30)
    works.pool("SCREWS-3", {"SCREWS-2": 30, "SCREWS-1": 4})
    mixed = found_in(works, "SCREWS-2")
    assert has_chances(mixed)
    assert certain_and_possible(mixed) == (0, 0)
