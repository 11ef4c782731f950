"""Who has what is suspect: customers, the works, and places of which nobody knows what they are."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from lotkin.core.errors import BadEvent
from lotkin.store.beside.documents import Documents
from lotkin.uses.asking.audit import audit
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.drill import drill
from lotkin.uses.asking.sample_plan import Wanted, plan_sample
from lotkin.uses.asking.where import Question, where_used
from lotkin.uses.asking.window import Window
from lotkin.uses.cases.case_work import Person, Verdict, decide
from lotkin.uses.cases.case_work import Selection as Chosen
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.reporting.customer_data import customer_data
from tests.laws import check_records
from tests.small_works import PLAN, Works

if TYPE_CHECKING:
    from collections.abc import Mapping

    from lotkin.core.answers.rows import Row


def codes(by_place: Mapping[str, tuple[Row, ...]]) -> dict[str, list[str]]:
    """Give the codes at each place."""
    return {place: sorted(row.code for row in rows) for place, rows in by_place.items()}


# --- whoever a shipment names


@pytest.mark.parametrize("plan", [PLAN, ""], ids=["with a plan", "without a plan"])
def test_whoever_a_shipment_names_is_a_customer(plan: str) -> None:
    works = Works(plan=plan)
    works.receive("S1", 5)
    works.ship("SHIP-1", "S1", customer="NEWCUST", reported=True)

    found = contain(works.store, ["S1"])

    assert codes(found.customers) == {"NEWCUST": ["S1"]}
    assert found.places == found.unknown_places == {}
    assert list(customer_data(works.store, ["S1"]).customers) == ["NEWCUST"]


def test_a_place_that_the_plan_knows_stays_what_it_is_though_something_was_shipped_there() -> None:
    works = Works(plan=PLAN)
    works.receive("S1", 5)
    works.ship("SHIP-1", {"S1": 2}, customer="FLOOR", reported=True)
    works.ship("SHIP-2", {"S1": 1}, customer="ANODISER", reported=True)

    found = contain(works.store, ["S1"])

    assert found.customers == {}
    assert list(found.places) == ["ANODISER", "FLOOR", "SHELF"]


def test_a_place_is_no_customer_any_more_once_its_only_shipment_is_void() -> None:
    works = Works()
    works.receive("S1", 5)
    shipped = works.ship("SHIP-1", {"S1": 2}, customer="NEWCUST")
    works.do("move", item="S1", quantity=1, to_place="NEWCUST", place="SHELF")
    assert codes(contain(works.store, ["S1"]).customers) == {"NEWCUST": ["S1"]}

    works.void(shipped)

    assert contain(works.store, ["S1"]).customers == {}
    assert list(contain(works.store, ["S1"]).unknown_places) == ["NEWCUST", "SHELF"]


def test_what_a_shipment_took_to_somebody_outside_the_plan_can_come_back_unnamed() -> None:
    works = Works(plan=PLAN)
    works.receive("S1", 5)
    works.ship("SHIP-1", "S1", customer="NEWCUST", reported=True)

    back = works.do("return", item="S1", to_place="RED-BOX", reason="bent")

    assert back.breaches == ()
    assert works.stock("S1") == {"RED-BOX": 5}


def test_a_shipped_unit_may_be_repaired_in_its_carton_whoever_has_it() -> None:
    works = Works(plan=PLAN)
    works.receive("SCREWS", 100)
    works.build("U1", bench=None, place="FLOOR", inputs={"SCREWS": 2}, reported=True)
    works.test("U1")
    works.pack("C1", "U1")
    works.ship("SHIP-1", "C1", customer="NEWCUST", reported=True)

    assert works.swap("U1").breaches == ()


def test_pieces_with_somebody_outside_the_plan_are_neither_sampled_nor_stale_nor_forgotten() -> (
    None
):
    works = Works(plan=PLAN)
    works.receive("S1", 5)
    works.ship("SHIP-1", {"S1": 3}, customer="NEWCUST", reported=True)

    answer = plan_sample(works.store, "S1", Wanted())
    assert (answer.on_hand, answer.places) == (2, {"SHELF": 2})
    stale = [
        gap.message
        for gap in audit(works.store, Documents(None), works.clock()).gaps
        if gap.kind == "stock-stale"
    ]
    assert [message for message in stale if "NEWCUST" in message] == []
    done = drill(works.store, "S1", by="ANN", clock=works.clock, timer=lambda: 0.0)
    assert (done.customers, done.unknown_places) == ({"NEWCUST": 1}, {})


def test_the_customers_are_the_same_after_a_rebuild() -> None:
    works = Works(plan=PLAN)
    works.receive("S1", 5)
    works.ship("SHIP-1", "S1", customer="NEWCUST", reported=True)
    rebuild(works.store)
    assert codes(contain(works.store, ["S1"]).customers) == {"NEWCUST": ["S1"]}


# --- places of unknown kind


def test_pieces_at_a_place_of_unknown_kind_are_never_in_the_works() -> None:
    works = Works()
    works.receive("S1", 5)
    works.do("move", item="S1", quantity=2, place="SHELF", to_place="EXPO")
    works.plan(PLAN)

    found = contain(works.store, ["S1"])

    assert list(found.places) == ["SHELF"]
    assert codes(found.unknown_places) == {"EXPO": ["S1"]}
    assert found.customers == {}


def test_a_drill_tells_what_is_at_places_of_unknown_kind() -> None:
    works = Works()
    works.receive("S1", 5)
    done = drill(works.store, "S1", by="ANN", clock=works.clock, timer=lambda: 0.0)
    assert (done.customers, done.unknown_places) == ({}, {"SHELF": 1})


# --- cartons


def shipped_carton() -> Works:
    """Ship a carton with two lots of screws; the first is suspect."""
    works = Works(plan=PLAN)
    works.receive("BAD", 5)
    works.receive("GOOD", 5)
    works.pack("C1", ["BAD", "GOOD"])
    works.ship("SHIP-1", "C1")
    return works


def test_a_carton_is_no_suspect_once_nothing_suspect_is_in_it() -> None:
    works = shipped_carton()
    assert codes(contain(works.store, ["BAD"]).customers) == {"CLINIC": ["BAD", "C1"]}

    works.do("return", item="BAD", to_place="RED-BOX", reason="cracks")
    found = contain(works.store, ["BAD"])

    assert found.customers == {}
    assert customer_data(works.store, ["BAD"]).customers == {}
    (carton,) = [row for row in found.answer.items if row.code == "C1"]
    assert carton.removed
    assert works.used("BAD")["C1"].removed
    check_records(works)


def test_a_carton_counts_while_any_suspect_piece_is_in_it() -> None:
    works = shipped_carton()
    works.do("return", item="BAD", quantity=4, to_place="RED-BOX", reason="cracks")
    assert codes(contain(works.store, ["BAD"]).customers) == {"CLINIC": ["BAD", "C1"]}
    assert not works.used("BAD")["C1"].removed


def test_of_pieces_packed_again_only_the_new_carton_is_suspect() -> None:
    works = Works(plan=PLAN)
    works.receive("BAD", 5)
    works.pack("C1", "BAD")
    works.pack("C2", {"item": "BAD", "quantity": 5, "within": "C1"})

    assert codes(contain(works.store, ["BAD"]).places) == {"SHELF": ["BAD", "C2"]}


def test_a_carton_around_a_suspect_carton_is_suspect_and_around_an_emptied_one_is_not() -> None:
    works = Works(plan=PLAN)
    works.receive("BAD", 5)
    works.pack("C1", "BAD")
    works.pack("C2", "C1")
    works.ship("SHIP-1", "C2")
    assert codes(contain(works.store, ["BAD"]).customers) == {"CLINIC": ["BAD", "C1", "C2"]}

    works.do("return", item="BAD", to_place="RED-BOX", reason="cracks")
    assert contain(works.store, ["BAD"]).customers == {}


def test_a_carton_of_a_unit_that_has_the_suspect_no_longer_is_none() -> None:
    works = Works(plan=PLAN)
    works.receive("BAD", 100)
    works.receive("GOOD", 100)
    works.build("U1", bench=None, place="FLOOR", inputs={"BAD": 2}, reported=True)
    works.test("U1")
    works.pack("C1", "U1")
    works.ship("SHIP-1", "C1")
    works.swap("U1", [{"item": "BAD", "end": "scrap"}], {"GOOD": 2})

    assert contain(works.store, ["BAD"]).customers == {}
    assert codes(contain(works.store, ["GOOD"]).customers) == {"CLINIC": ["U1/2"]}


def test_a_carton_counts_also_where_only_packs_are_asked_for() -> None:
    works = shipped_carton()
    found = contain(works.store, ["BAD"], Question(families=frozenset({"pack"})))
    assert "C1" in codes(found.customers)["CLINIC"]


def test_a_carton_that_is_asked_about_counts_empty_or_not() -> None:
    works = shipped_carton()
    for lot in ("BAD", "GOOD"):
        works.do("return", item=lot, to_place="RED-BOX", reason="cracks")
    assert codes(contain(works.store, ["C1"]).customers) == {"CLINIC": ["C1"]}


# --- for a case


def with_case() -> Works:
    works = shipped_carton()
    works.do("open-case", case="CASE-7", subjects=["BAD", "GOOD"], reason="cracks")
    return works


def test_what_customers_have_can_be_asked_for_a_case() -> None:
    works = with_case()
    data = customer_data(works.store, ["CASE-7"])

    assert data.case is not None
    assert (data.case.code, data.case.reason) == ("CASE-7", "cracks")
    assert [one.row.code for one in data.customers["CLINIC"]] == ["BAD", "GOOD", "C1"]


def test_what_a_case_has_released_is_told_to_no_customer() -> None:
    works = with_case()
    person = Person("ANN", works.clock)
    released = Verdict("cleared by evidence", "measured", "REPORT-1")
    decide(works.store, "CASE-7", released, person, Chosen(codes=("GOOD",)))
    assert [one.row.code for one in customer_data(works.store, ["CASE-7"]).customers["CLINIC"]] == [
        "BAD",
        "C1",
    ]
    decide(works.store, "CASE-7", released, person, Chosen(codes=("BAD",)))
    assert customer_data(works.store, ["CASE-7"]).customers == {}


def test_a_case_is_asked_for_alone_and_with_its_own_span() -> None:
    works = with_case()
    with pytest.raises(BadEvent, match="is a case: name it alone"):
        customer_data(works.store, ["CASE-7", "BAD"])
    with pytest.raises(BadEvent, match="has its own span"):
        customer_data(works.store, ["CASE-7"], Question(window=Window(0, None)))


# --- what a notice says of a unit


def told_of(works: Works, lot: str) -> dict[str, bool]:
    """Map what a notice to the clinic names to whether it calls it certain."""
    found = customer_data(works.store, [lot]).customers.get("CLINIC", ())
    return {holding.row.code: holding.row.certain for holding in found}


def test_a_notice_never_names_a_unit_whose_bad_part_was_swapped_out() -> None:
    works = Works(plan=PLAN)
    works.receive("BAD", 100)
    works.receive("GOOD", 100)
    for serial in ("U1", "U2"):
        works.build(serial, bench=None, place="FLOOR", inputs={"BAD": 2}, reported=True)
        works.test(serial)
    works.swap("U1", [{"item": "BAD", "end": "scrap"}], {"GOOD": 2})
    works.test("U1")
    works.ship("SHIP-1", ["U1", "U2"])

    assert told_of(works, "BAD") == {"U2": True}
    assert told_of(works, "GOOD") == {"U1/2": True}


def test_a_notice_never_says_certain_of_a_unit_that_may_have_another_lot() -> None:
    works = Works(plan=PLAN)
    for lot, part in (("S1", "SCREW"), ("S2", "SCREW"), ("T1", "TIP")):
        works.receive(lot, 100, part=part, at=1)
    works.mount({"P1": "T1", "P2": {"item": "S1", "per": 2}}, at=5)
    works.mount({"P2": {"item": "S2", "per": 2}}, at=8)
    works.build("U1", started=7, at=9)
    works.test("U1", at=10)
    works.ship("SHIP-1", "U1", at=11)

    assert told_of(works, "S1") == told_of(works, "S2") == {"U1": False}
    assert told_of(works, "T1") == {"U1": True}


def test_rows_looked_at_later_say_what_a_place_was_when_it_was_asked() -> None:
    works = Works()
    works.receive("SCREWS", 10)
    works.receive("OTHERS", 10)
    works.split("SCREWS", {"BAG": 4})
    works.do("move", item="BAG", to_place="BARN")

    asked = where_used(works.store, "SCREWS")
    works.ship("SHIP-9", "OTHERS", customer="BARN")

    assert [here.place_kind for row in asked.items for here in row.at if row.code == "BAG"] == [""]
    again = works.used("SCREWS")["BAG"]
    assert [here.place_kind for here in again.at] == ["customer"]
