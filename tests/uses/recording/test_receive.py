"""Goods-in: what is right gets in, what is not gets in on hold, and nothing twice."""

from __future__ import annotations

import hashlib
from datetime import date
from decimal import Decimal
from typing import Any
from uuid import UUID

import pytest

from lotkin.core.errors import BadEvent, EventIdReused, LotkinError, NotConfirmed, UnknownCode
from lotkin.core.values.instants import parse_instant
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.evidence.verify import verify
from tests.certificate_pdfs import STEEL, certificate_pdf
from tests.goods_in import GOODS_PLAN, PICTURE, GoodsIn, bars, delivery
from tests.small_works import dump

OTHER = "other material, diameter or length?"

VALUES = {element: Decimal(value) for element, value in STEEL.items()}


@pytest.fixture
def goods() -> GoodsIn:
    return GoodsIn()


def code_of(received: Any) -> str:
    return str(received.event["code"])


# --- recording


def test_a_delivery_in_order_is_recorded_and_free(goods: GoodsIn) -> None:
    got = goods.take(papers=goods.papers(certificate_pdf()), composition=VALUES)

    assert goods.hold(code_of(got)) is None
    assert got.event["item_kind"] == "bar-lot"
    assert got.event["unit"] == "m"
    assert got.event["composition"] == STEEL
    assert got.recorded.made == tuple(sorted([code_of(got), "TORVIK:48213"]))
    assert goods.works.stock(code_of(got)) == {"RACK": 30}
    assert set(goods.works.origin(code_of(got))) == {"TORVIK:48213"}


def test_its_documents_are_kept_and_named_in_the_event(goods: GoodsIn) -> None:
    pdf = certificate_pdf()
    got = goods.take(papers=goods.papers(pdf, PICTURE))

    names = [hashlib.sha256(content).hexdigest() for content in (pdf, PICTURE)]
    assert set(goods.keeper.kept) == set(names)
    assert got.event["documents"] == [
        {"sha256": names[0], "name": "c1.pdf", "media_type": "application/pdf", "size": len(pdf)},
        {"sha256": names[1], "name": "c2.pdf", "media_type": "image/jpeg", "size": len(PICTURE)},
    ]
    assert [each["sha256"] for each in goods.documents(code_of(got))] == names


def test_nothing_that_a_certificate_reads_is_taken_unseen(goods: GoodsIn) -> None:
    got = goods.take(papers=goods.papers(certificate_pdf()))

    assert {"composition", "mechanical", "grade"} & set(got.event) == set()


def test_a_code_is_made_up_and_is_the_same_if_sent_again(goods: GoodsIn) -> None:
    sent = delivery()
    first = goods.send(sent)
    again = goods.send(sent)

    assert code_of(first) == code_of(again)
    assert again.recorded.repeated
    assert again.recorded.made == first.recorded.made
    assert again.event == first.event
    assert goods.works.head() == 2  # the plan, and one delivery


def test_what_was_filled_in_is_no_other_content_when_sent_again(goods: GoodsIn) -> None:
    sent = delivery(
        part="POWDER", quantity=None, at=None, heat="", source_lot="L1", bars=bars(mass_kg=20)
    )
    first = goods.send(sent)
    goods.works.minute += 1000
    again = goods.send(sent, confirmed=())

    assert (first.recorded.repeated, again.recorded.repeated) == (False, True)
    assert first.event["quantity"] == "20"


@pytest.mark.parametrize(
    "change",
    [
        {"quantity": Decimal(31)},
        {"heat": "48214"},
        {"heat": "", "source_lot": "48213"},
        {"place": "RED-BOX"},
        {"certificate": ""},
        {"composition": VALUES},
        {"hold": "bent"},
        {"code": "OTHER"},
        {"at": parse_instant("2026-03-02T07:00:01Z")},
        {"note": "x"},
        {"due": date(2027, 1, 1)},
    ],
    ids=lambda change: next(iter(change)),
)
def test_another_delivery_under_the_same_id_is_refused(
    goods: GoodsIn, change: dict[str, Any]
) -> None:
    sent = delivery()
    goods.send(sent)
    with pytest.raises(EventIdReused):
        goods.take(id=sent.id, confirmed=(), **change)
    with pytest.raises(EventIdReused):
        goods.take(id=sent.id, confirmed=(), papers=goods.papers(PICTURE))
    assert goods.works.head() == 2


def test_an_id_of_another_kind_of_event_is_refused(goods: GoodsIn) -> None:
    got = goods.take()
    scrap = goods.works.do("scrap", item=code_of(got), quantity=1, reason="bent")
    with pytest.raises(EventIdReused):
        goods.take(id=UUID(scrap.id), confirmed=())


def test_a_resource_begins_with_its_calibration(goods: GoodsIn) -> None:
    got = goods.take(
        part="CAL-2",
        quantity=None,
        heat="",
        supplier="",
        certificate="",
        serial="G77",
        code="CAL-2/7",
    )
    assert (got.event["item_kind"], got.event["serial"]) == ("gauge", "G77")
    assert got.event["due"] == "2026-08-29T07:00:00Z"


def test_bars_times_their_length_are_the_quantity(goods: GoodsIn) -> None:
    got = goods.take(quantity=None, bars=bars(count=12, length_mm=3000))
    assert got.event["quantity"] == "36"
    assert got.event["delivered"] == {"bars": 12, "bar_length_mm": "3000"}


@pytest.mark.parametrize(
    ("without", "why"),
    [
        ({"quantity": None}, "needs quantity"),
        ({"place": ""}, "needs place"),
        ({"supplier": ""}, "needs supplier"),
        ({"part": "NONE"}, "needs kind"),
        ({"part": "", "place": ""}, "needs part, place, kind"),
    ],
)
def test_what_is_missing_is_named(goods: GoodsIn, without: dict[str, Any], why: str) -> None:
    with pytest.raises(BadEvent, match=why):
        goods.take(**without)


def test_a_place_that_the_plan_has_not_is_refused_and_nothing_kept(goods: GoodsIn) -> None:
    sent = delivery(place="NOWHERE", papers=goods.papers(PICTURE))
    with pytest.raises(UnknownCode):
        goods.send(sent)
    assert goods.works.head() == 1


def test_without_a_plan_anything_is_received_as_what_it_is_said_to_be() -> None:
    goods = GoodsIn(plan="")
    got = goods.take(item_kind="bar-lot", unit="m", certificate="")
    assert goods.hold(code_of(got)) is None


# --- on hold


HELD: list[tuple[dict[str, Any], str]] = [
    ({"certificate": ""}, "BAR-8 needs a certificate 3.1; none came"),
    ({"certificate": "2.2"}, "BAR-8 needs a certificate 3.1; a 2.2 came"),
    (
        {"composition": {**VALUES, "Pb": Decimal("0.15")}},
        "Pb 0.15 % is outside of 11SMnPb30: 0.2 to 0.35 % (EN 10277:2018, EN ISO 683-4:2018)",
    ),
    (
        {"mechanical": {"Rm": (Decimal(900),)}, "bars": bars(diameter_mm=8)},
        "Rm 900 MPa is outside of 11SMnPb30 +C: 510 to 810 MPa (EN 10277:2018, EN ISO 683-4:2018)",
    ),
    ({"grade": "1.0715"}, "the certificate names 1.0715, BAR-8 is 11SMnPb30"),
    ({"hold": "bent"}, "bent"),
    (
        {"bars": bars(mass_kg=4, diameter_mm=8)},
        f"BAR-8: 4 kg came, 30 m of 8 mm round would be 11.8 kg; 66 % less: {OTHER}",
    ),
    ({"due": date(2026, 3, 1)}, "BAR-8: expired on 2026-03-01"),
]


@pytest.mark.parametrize(("said", "why"), HELD, ids=[why[:30] for _, why in HELD])
def test_what_is_missing_or_out_of_limits_is_received_on_hold(
    goods: GoodsIn, said: dict[str, Any], why: str
) -> None:
    got = goods.take(**said)

    assert got.event["hold"] == why
    assert goods.hold(code_of(got)) == why
    with pytest.raises(LotkinError, match="is held"):
        goods.works.make({"TIP-1": 10}, {code_of(got): 1})


def test_a_higher_certificate_will_do(goods: GoodsIn) -> None:
    assert "hold" not in goods.take(certificate="3.2").event


def test_all_reasons_are_given(goods: GoodsIn) -> None:
    got = goods.take(certificate="", hold="bent", composition={**VALUES, "C": Decimal(1)})
    assert str(got.event["hold"]).startswith(
        "bent; BAR-8 needs a certificate 3.1; none came; C 1 %"
    )


PAPERS: list[tuple[bytes, dict[str, Any], str]] = [
    (certificate_pdf("48214"), {}, "48213 stands nowhere on c1.pdf; 48214 is named"),
    (certificate_pdf(grade="11SMn30"), {}, "c1.pdf: 11SMn30 is named; BAR-8 is 11SMnPb30"),
    (certificate_pdf(kind="2.2"), {}, "c1.pdf reads 2.2, not 3.1"),
    (
        certificate_pdf(),
        {"certificate": ""},
        "BAR-8 needs a certificate 3.1; c1.pdf reads 3.1, which nobody has confirmed",
    ),
    (
        certificate_pdf(composition={**STEEL, "Pb": "0.15"}),
        {},
        "c1.pdf reads, not confirmed: Pb 0.15 % is outside of 11SMnPb30",
    ),
    (
        certificate_pdf(strength={"Rm": ["900"], "A": ["9"]}),
        {},
        "c1.pdf reads, not confirmed: Rm 900 MPa is outside of 11SMnPb30 +C",
    ),
]


@pytest.mark.parametrize(("pdf", "said", "why"), PAPERS, ids=[why[:40] for *_, why in PAPERS])
def test_papers_of_another_delivery_hold_it(
    goods: GoodsIn, pdf: bytes, said: dict[str, Any], why: str
) -> None:
    got = goods.take(papers=goods.papers(pdf), **said)
    assert why in str(goods.hold(code_of(got)))


def test_a_confirmed_value_that_reads_otherwise_is_asked_about(goods: GoodsIn) -> None:
    papers = goods.papers(certificate_pdf(composition={**STEEL, "Pb": "0.15"}))
    proposal = goods.propose(papers=papers, composition=VALUES)
    assert proposal.questions == ("Pb 0.27 % is confirmed, c1.pdf reads 0.15 %",)


def test_a_value_that_is_left_out_of_the_confirmed_ones_is_looked_at_all_the_same(
    goods: GoodsIn,
) -> None:
    papers = goods.papers(certificate_pdf(composition={**STEEL, "Pb": "0.15"}))
    some = {element: value for element, value in VALUES.items() if element != "Pb"}
    got = goods.take(papers=papers, composition=some)
    assert "c1.pdf reads, not confirmed: Pb 0.15 %" in str(got.event["hold"])


def test_beside_a_picture_nothing_is_held_for_what_cannot_be_read(goods: GoodsIn) -> None:
    papers = goods.papers(certificate_pdf("48214", grade="none"), PICTURE)
    proposal = goods.propose(papers=papers)
    assert proposal.questions == ("48213 stands nowhere on c1.pdf; 48214 is named",)
    assert goods.propose(papers=goods.papers(PICTURE)).findings == ()


# --- questions


def test_a_question_is_to_be_confirmed_first(goods: GoodsIn) -> None:
    sent = delivery(bars=bars(mass_kg="12.8", diameter_mm=8), papers=goods.papers(PICTURE))
    with pytest.raises(NotConfirmed) as refused:
        goods.send(sent, confirmed=())
    assert refused.value.problems == (
        f"BAR-8: 12.8 kg came, 30 m of 8 mm round would be 11.8 kg; 8 % more: {OTHER}",
    )
    assert refused.value.exit_status == 3
    assert goods.works.head() == 1
    assert goods.keeper.kept == {}


def test_what_was_confirmed_is_in_the_event_and_the_lot_is_free(goods: GoodsIn) -> None:
    got = goods.take(bars=bars(mass_kg="12.8", diameter_mm=8))
    assert goods.hold(code_of(got)) is None
    assert str(got.event["confirmed"]).startswith("['BAR-8: 12.8 kg came, 30 m")


def test_a_question_that_nobody_saw_is_not_confirmed_by_another(goods: GoodsIn) -> None:
    sent = delivery()
    seen = goods.propose().questions
    earlier = goods.take()
    with pytest.raises(NotConfirmed) as refused:
        goods.send(sent, confirmed=seen)
    assert refused.value.problems == (
        f"BAR-8: 30 m of heat 48213 were received on 2026-03-02 already, as {code_of(earlier)}",
    )


@pytest.mark.parametrize(
    ("again", "is_asked"),
    [
        ({}, True),
        ({"at": parse_instant("2026-03-15T07:00:00Z")}, True),
        ({"at": parse_instant("2026-03-17T07:00:00Z")}, False),
        ({"quantity": Decimal(29)}, False),
        ({"heat": "48214"}, False),
        ({"part": "ALU-12"}, False),
        ({"supplier": "ANNING"}, False),
    ],
)
def test_a_delivery_received_before_is_asked_about(
    goods: GoodsIn, again: dict[str, Any], is_asked: bool
) -> None:
    goods.take()
    rules = [finding.rule for finding in goods.propose(**again).findings]
    assert ("duplicate" in rules) is is_asked


def test_the_suppliers_number_of_the_delivery_tells_doubles_too(goods: GoodsIn) -> None:
    said = {"part": "SCREW", "heat": "", "certificate": "", "supplier_lot": "D-7"}
    goods.take(**said)
    assert [finding.rule for finding in goods.propose(**said).findings] == ["duplicate"]


def test_a_voided_receipt_is_no_double(goods: GoodsIn) -> None:
    got = goods.take()
    goods.works.void(got.recorded)
    assert goods.propose().questions == ()


def test_bars_that_are_not_the_metres_are_asked_about(goods: GoodsIn) -> None:
    proposal = goods.propose(bars=bars(count=9, length_mm=3000))
    assert proposal.questions == ("BAR-8: 9 bars of 3000 mm are 27 m, not 30 m",)


def test_a_diameter_that_reads_otherwise_is_asked_about(goods: GoodsIn) -> None:
    papers = goods.papers(certificate_pdf())
    proposal = goods.propose(papers=papers, bars=bars(diameter_mm="8.5"))
    assert proposal.questions == ("c1.pdf reads a diameter of 8 mm, not 8.5 mm",)
    assert goods.propose(papers=papers, bars=bars(diameter_mm="8.0")).questions == ()


def test_powder_that_expires_soon_is_asked_about(goods: GoodsIn) -> None:
    said: dict[str, Any] = {"part": "POWDER", "heat": "", "certificate": ""}
    soon = goods.propose(**said, due=date(2026, 4, 1))
    assert soon.questions == ("POWDER: expires on 2026-04-01, in 30 of 365 days",)
    assert goods.propose(**said, due=date(2027, 3, 2)).questions == ()


def test_a_day_counts_to_its_end_where_the_works_is(goods: GoodsIn) -> None:
    got = goods.take(part="SCREW", heat="", certificate="", due=date(2026, 7, 1))
    assert got.event["due"] == "2026-07-01T21:59:59Z"
    assert goods.propose(due=date(2026, 3, 2)).questions == ()


# --- notes


def test_what_cannot_be_compared_is_noted(goods: GoodsIn) -> None:
    assert goods.propose().notes == ("the certificate 3.1 is not attached",)
    assert goods.propose(part="ODD-9", certificate="").notes == ()
    assert goods.propose(part="ODD-9", certificate="", composition=VALUES).notes == (
        "no limits of 42CrMo4 are known; nothing was compared",
    )


def test_a_grade_that_is_not_known_is_asked_about(goods: GoodsIn) -> None:
    assert goods.propose(grade="42CrMo4").questions == (
        "the certificate names 42CrMo4, BAR-8 is 11SMnPb30",
    )
    assert goods.propose(grade="11SMnPb30 +C").questions == ()


def test_powder_without_any_expiry_is_noted() -> None:
    goods = GoodsIn(plan=GOODS_PLAN.replace("shelf_life_days = 365", ""))
    said: dict[str, Any] = {"part": "POWDER", "heat": "", "certificate": ""}
    assert goods.propose(**said).notes == ("POWDER: no expiry is known",)


# --- the record


def test_the_record_stays_sound_and_can_be_rebuilt(goods: GoodsIn) -> None:
    got = goods.take(papers=goods.papers(certificate_pdf(), PICTURE), composition=VALUES)
    goods.works.minute += 30 * 24 * 60
    goods.take(certificate="", at=goods.now())
    goods.works.amend(got.recorded, composition={"Pb": "0.3"}, documents=None)
    before = dump(goods.works.store)

    assert verify(goods.works.store).is_sound
    assert rebuild(goods.works.store).difference == ""
    assert dump(goods.works.store) == before
    assert goods.documents(code_of(got)) == []


def test_a_shelf_life_of_the_plan_never_takes_the_place_of_a_printed_expiry_in_silence(
    goods: GoodsIn,
) -> None:
    said: dict[str, Any] = {"part": "POWDER", "heat": "", "certificate": ""}
    (question,) = goods.propose(**said).questions
    assert question.startswith("POWDER: no printed expiry was given; by the shelf life of 365 days")
    assert question.endswith("2027-03-02")
    got = goods.take(**said, due=date(2026, 11, 7))
    assert got.event["due"] == "2026-11-07T22:59:59Z"


@pytest.mark.parametrize("typed", ["torvik", "Torvik", " TORVIK ", "TORVIK"])
def test_a_supplier_is_known_in_any_case_and_by_name(goods: GoodsIn, typed: str) -> None:
    assert goods.take(supplier=typed.strip()).event["supplier"] == "TORVIK"
