"""A certificate that was asked for because of its values frees nothing while nobody has read it."""

from __future__ import annotations

import uuid
from decimal import Decimal
from typing import Any

import pytest

from lotkin.core.errors import RuleBroken
from tests.certificate_pdfs import STEEL, STRENGTH, certificate_pdf
from tests.goods_in import GOODS_PLAN, PICTURE, GoodsIn, bars

VALUES = {element: Decimal(value) for element, value in STEEL.items()}
RESULTS = {symbol: tuple(map(Decimal, values)) for symbol, values in STRENGTH.items()}
UNREAD = "BAR-8: nobody has compared composition and strength on its certificate with 11SMnPb30"


@pytest.fixture
def goods() -> GoodsIn:
    return GoodsIn()


def held(goods: GoodsIn, **said: Any) -> str | None:
    got = goods.take(**{"compared_by": "", **said})
    return goods.hold(str(got.event["code"]))


def test_a_picture_called_a_certificate_holds_the_delivery(goods: GoodsIn) -> None:
    assert held(goods, papers=goods.papers(PICTURE)) == UNREAD


def test_values_that_were_read_and_that_nobody_has_confirmed_hold_it(goods: GoodsIn) -> None:
    assert held(goods, papers=goods.papers(certificate_pdf())) == UNREAD


def test_a_certificate_that_is_only_claimed_holds_it(goods: GoodsIn) -> None:
    assert held(goods) == UNREAD


def test_all_values_confirmed_and_within_their_limits_leave_it_free(goods: GoodsIn) -> None:
    said = {"composition": VALUES, "mechanical": RESULTS, "bars": bars(diameter_mm=8)}
    assert held(goods, papers=goods.papers(certificate_pdf()), **said) is None


def test_a_named_person_who_has_compared_leaves_it_free_and_stands_in_the_event(
    goods: GoodsIn,
) -> None:
    got = goods.take(compared_by="ANN", papers=goods.papers(PICTURE))
    assert goods.hold(str(got.event["code"])) is None
    assert got.event["compared_by"] == "ANN"


@pytest.mark.parametrize(
    ("without", "lacking"),
    [
        ({"composition": {"C": VALUES["C"]}}, "Si, Mn, P, S and Pb"),
        ({"composition": {}}, "composition"),
        ({"mechanical": {}}, "strength"),
        ({"bars": bars()}, "strength (the diameter is not known)"),
        ({"bars": bars(diameter_mm=400)}, "strength (no limits for 400 mm are known)"),
    ],
)
def test_what_is_left_out_of_the_confirmed_values_is_named_and_holds_it(
    goods: GoodsIn, without: dict[str, Any], lacking: str
) -> None:
    said = {"composition": VALUES, "mechanical": RESULTS, "bars": bars(diameter_mm=8), **without}
    why = f"BAR-8: nobody has compared {lacking} on its certificate with 11SMnPb30"
    assert held(goods, **said) == why


def test_a_value_confirmed_otherwise_than_it_reads_holds_it(goods: GoodsIn) -> None:
    """Whoever confirms all questions at once has not compared a value with the paper."""
    papers = goods.papers(certificate_pdf(composition={**STEEL, "Mn": "1.10"}))
    said = {"composition": VALUES, "mechanical": RESULTS, "bars": bars(diameter_mm=8)}
    assert held(goods, papers=papers, **said) == "Mn 1.05 % is confirmed, c1.pdf reads 1.10 %"


def test_where_no_limits_are_known_only_a_person_can_have_compared() -> None:
    plan = GOODS_PLAN.replace('material = "42CrMo4"', 'material = "42CrMo4"\ncertificate = "3.1"')
    goods = GoodsIn(plan=plan)
    why = "ODD-9: nobody has compared the values on its certificate; no limits of 42CrMo4 are known"
    assert held(goods, part="ODD-9", composition=VALUES) == why
    assert held(goods, part="ODD-9", composition=VALUES, compared_by="ANN", heat="7") is None


def test_a_part_without_grade_that_needs_a_test_report_is_held_as_well() -> None:
    plan = GOODS_PLAN.replace('unit = "pcs"', 'unit = "pcs"\ncertificate = "2.2"')
    goods = GoodsIn(plan=plan)
    why = "SCREW: nobody has compared the values on its certificate; it has no grade"
    assert held(goods, part="SCREW", heat="", certificate="2.2") == why


def test_a_part_that_needs_no_values_is_not_held_for_them(goods: GoodsIn) -> None:
    assert held(goods, part="ALU-12", certificate="3.1", heat="9") is None
    plan = GOODS_PLAN.replace('unit = "pcs"', 'unit = "pcs"\ncertificate = "2.1"')
    assert held(GoodsIn(plan=plan), part="SCREW", heat="", certificate="2.1") is None


def event(goods: GoodsIn, **more: Any) -> str | None:
    """Record a receipt as programs, stations and imports do: no use of goods-in is between."""
    code = f"E-{uuid.uuid4().hex[:8]}"
    said = {
        "code": code,
        "item_kind": "bar-lot",
        "part": "BAR-8",
        "quantity": 30,
        "place": "RACK",
        "supplier": "TORVIK",
        "source": {"kind": "heat", "number": "48213"},
        "certificate": "3.1",
    }
    goods.works.do("receive", **{**said, **more})
    return goods.hold(code)


def test_an_event_from_any_door_is_held_for_values_that_nobody_has_compared(
    goods: GoodsIn,
) -> None:
    assert event(goods) == UNREAD
    assert event(goods, hold="bent", reported=True) == f"bent; {UNREAD}"
    assert event(goods, compared_by="ANN") is None


def test_a_receipt_that_names_the_reason_already_names_it_once(goods: GoodsIn) -> None:
    assert event(goods, hold=UNREAD) == UNREAD


def test_somebody_who_is_not_in_the_plan_has_compared_nothing() -> None:
    plan = 'person = [{code = "ann", name = "Ann", roles = ["receiving"]}]\n' + GOODS_PLAN
    goods = GoodsIn(plan=plan)
    with pytest.raises(RuleBroken, match="NOBODY, who is said to have compared it"):
        event(goods, by="ann", compared_by="NOBODY")
    assert event(goods, by="ann", compared_by="ann") is None


def test_an_amendment_that_names_the_certificate_alone_frees_nothing(goods: GoodsIn) -> None:
    got = goods.take(certificate="", compared_by="")
    goods.works.amend(got.recorded, certificate="3.1", compared_by="ANN")
    code = str(got.event["code"])
    assert goods.hold(code) == "BAR-8 needs a certificate 3.1; none came"
