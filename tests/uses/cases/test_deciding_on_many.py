"""A decision that hits nothing is an error, and one that hits many is asked about."""

from __future__ import annotations

from dataclasses import replace

import pytest

from lotkin.core.errors import AmbiguousCode, CountNotConfirmed, NothingFits
from lotkin.uses.cases.case_work import Person, Selection, Verdict, decide, show_case
from tests.small_works import PLAN, Works

SCRAP = Verdict("scrap", "cracks")


def case_with(lots: int) -> Works:
    """Give a works with a case on a heat of many bars, three of them at a customer."""
    works = Works(plan=PLAN)
    for number in range(lots):
        works.bar(f"B{number}", heat="H1")
    works.do("open-case", case="CASE-1", subjects=["MILL:H1"], reason="cracks")
    for number in range(3):
        works.ship(f"SHIP-{number}", f"B{number}", reported=True)
    return works


def settle(works: Works, selection: Selection, confirmed: int | None = None) -> int:
    person = Person("ANN", works.clock)
    return len(decide(works.store, "CASE-1", SCRAP, person, replace(selection, count=confirmed)))


def decided(works: Works) -> int:
    return len(show_case(works.store, "CASE-1").decisions)


@pytest.mark.parametrize(
    "selection",
    [Selection(customer="NOBODY"), Selection(place="RED-BOX"), Selection(kind="unit")],
    ids=["customer", "place", "kind"],
)
def test_a_decision_that_hits_nothing_is_an_error_that_says_where_members_are(
    selection: Selection,
) -> None:
    works = case_with(5)
    with pytest.raises(NothingFits) as error:
        settle(works, selection)

    assert "nothing was decided" in error.value.message
    assert "CLINIC (3), SHELF (2)" in error.value.hint
    assert "bar-lot (5)" in error.value.hint
    assert decided(works) == 0


@pytest.mark.parametrize("said", ["CLINIC", "clinic", "Clinic"])
def test_a_customer_is_taken_by_code_or_name_in_any_case(said: str) -> None:
    works = case_with(5)

    assert settle(works, Selection(customer=said)) == 3


def test_a_name_of_two_places_is_not_guessed() -> None:
    works = case_with(5)
    works.plan(PLAN.replace('"Hospital"', '"Shelf"'))
    with pytest.raises(AmbiguousCode):
        settle(works, Selection(place="Shelf"))

    assert decided(works) == 0


def test_a_decision_on_more_than_fifty_is_asked_about_with_where_they_are() -> None:
    works = case_with(54)
    with pytest.raises(CountNotConfirmed) as error:
        settle(works, Selection(kind="bar-lot"))
    assert (error.value.count, error.value.where) == (54, (("SHELF", 51), ("CLINIC", 3)))
    assert "scrap on 54 members of CASE-1, at SHELF (51), CLINIC (3)" in error.value.message
    assert len(error.value.codes) == 54
    with pytest.raises(CountNotConfirmed):
        settle(works, Selection(kind="bar-lot"), confirmed=53)
    assert decided(works) == 0

    assert settle(works, Selection(kind="bar-lot"), confirmed=54) == 54


def test_fifty_are_decided_without_a_question() -> None:
    works = case_with(50)

    assert settle(works, Selection(kind="bar-lot")) == 50


def test_codes_named_one_by_one_are_counted_too() -> None:
    works = case_with(51)
    codes = tuple(f"B{number}" for number in range(51))
    with pytest.raises(CountNotConfirmed):
        settle(works, Selection(codes))

    assert settle(works, Selection(codes), confirmed=51) == 51
