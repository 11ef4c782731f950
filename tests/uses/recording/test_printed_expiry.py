"""A printed expiry and a moisture limit are used or asked for, at every door."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any

import pytest

from lotkin.core.errors import BadEvent, NotConfirmed
from lotkin.core.events.material.receive import Receive
from lotkin.core.events.reading import parse_event
from lotkin.uses.asking.show import show
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.evidence.verify import verify
from lotkin.uses.reporting.print_data import print_data
from lotkin_answers.delivery_text import delivery_lines, reading_lines
from lotkin_answers.places import Places
from lotkin_labels.printing.shop_papers import label_of
from tests.certificate_pdfs import lying_pdf
from tests.goods_in import GOODS_PLAN, GoodsIn, delivery

if TYPE_CHECKING:
    from lotkin.uses.recording.record import Recorded

NOT_GIVEN = (
    "POWDER: printed expiry not given; the plan's shelf life of 365 days would end on 2027-03-02"
)
QUESTION = (
    "POWDER: no printed expiry was given; by the shelf life of 365 days in the plan it would be "
    "2027-03-02"
)
MORNING = "2026-03-02T07:00:00Z"
DRY = GOODS_PLAN.replace(
    "shelf_life_days = 365", "shelf_life_days = 365\nmoisture_max_percent = 0.15"
)
POWDER: dict[str, Any] = {
    "part": "POWDER",
    "heat": "",
    "source_lot": "GW-4711",
    "certificate": "",
    "compared_by": "",
    "code": "P-1",
}
PAPER = [
    "Certificate of analysis PA12",
    "Batch no.: GW-4711",
    "Best before 07.11.2028",
    "Moisture 0.08 %",
]


@pytest.fixture
def goods() -> GoodsIn:
    return GoodsIn()


def event(goods: GoodsIn, **said: object) -> Recorded:
    """Record powder as a program, a station or an import does, without the use of goods-in."""
    fields = {"part": "POWDER", "item_kind": "powder-lot", "quantity": 20, "place": "RACK"}
    return goods.works.do("receive", **{"at": MORNING, "code": "P-1", **fields, **said})


def paper(goods: GoodsIn, lines: list[str] = PAPER) -> Any:
    return goods.papers(lying_pdf(0, lines))


# --- the printed expiry


@pytest.mark.parametrize("reported", [False, True])
def test_an_event_without_a_printed_expiry_is_held_and_says_why(
    goods: GoodsIn, *, reported: bool
) -> None:
    event(goods, reported=reported)
    assert goods.hold("P-1") == NOT_GIVEN


def test_who_says_that_no_expiry_is_printed_gets_the_date_of_the_plan_and_it_is_said(
    goods: GoodsIn,
) -> None:
    done = event(goods, no_printed_expiry=True)
    with goods.works.store.reading() as view:
        said = view.entry(done.seq).data
    assert said["due_by_plan"] == "shelf-life"
    assert said["due"] == "2027-03-02T07:00:00Z"
    assert goods.hold("P-1") is None


def test_a_printed_expiry_is_never_called_that_of_the_plan(goods: GoodsIn) -> None:
    done = event(goods, due="2026-11-07T22:59:59Z")
    with goods.works.store.reading() as view:
        assert "due_by_plan" not in view.entry(done.seq).data
    assert goods.hold("P-1") is None
    assert show(goods.works.store, "P-1").due_by_plan == ""


def test_a_date_and_the_word_that_none_is_printed_contradict_each_other(goods: GoodsIn) -> None:
    with pytest.raises(BadEvent, match="2026-11-07T22:59:59Z is given, and no_printed_expiry"):
        event(goods, due="2026-11-07T22:59:59Z", no_printed_expiry=True)


def test_a_gauge_says_that_its_date_is_that_of_the_plan_and_is_not_held(goods: GoodsIn) -> None:
    event(goods, code="G-1", part="CAL-2", item_kind="gauge", quantity=1)
    assert show(goods.works.store, "G-1").due_by_plan == "calibration-interval"
    assert goods.hold("G-1") is None


def test_a_part_without_shelf_life_needs_no_expiry(goods: GoodsIn) -> None:
    event(goods, code="S-1", part="SCREW", item_kind="purchased-lot")
    assert goods.hold("S-1") is None


def test_a_date_by_the_plan_follows_an_amended_receipt_and_gives_way_to_a_printed_one(
    goods: GoodsIn,
) -> None:
    done = event(goods, no_printed_expiry=True)
    goods.works.amend(done, at="2026-03-01T07:00:00Z")
    found = show(goods.works.store, "P-1")
    assert (found.due_by_plan, found.item.due_at) == ("shelf-life", 1_803_884_400_000_000)
    goods.works.amend(done, no_printed_expiry=None, due="2026-11-07T22:59:59Z")
    assert show(goods.works.store, "P-1").due_by_plan == ""
    assert verify(goods.works.store).is_sound
    assert rebuild(goods.works.store).difference == ""


def test_what_is_split_off_says_so_too(goods: GoodsIn) -> None:
    event(goods, no_printed_expiry=True)
    goods.works.do(
        "split", at="2026-03-02T07:00:30Z", item="P-1", parts=[{"code": "P-1A", "quantity": 5}]
    )
    assert show(goods.works.store, "P-1A").due_by_plan == "shelf-life"


def test_a_label_says_that_the_date_is_that_of_the_plan(goods: GoodsIn) -> None:
    event(goods, no_printed_expiry=True)
    event(goods, code="P-2", due="2026-11-07T22:59:59Z")
    plan, found = print_data(goods.works.store, ["P-1", "P-2"], goods.works.clock)
    words = [{fact.word: fact.value for fact in label_of(one, plan).face().facts} for one in found]
    assert words[0]["use by the plan's shelf life"] == "2027-03-02"
    assert words[1]["use by"] == "2026-11-07"


def test_the_confirmed_question_says_that_none_is_printed(goods: GoodsIn) -> None:
    assert goods.propose(**POWDER).questions == (QUESTION,)
    with pytest.raises(NotConfirmed):
        goods.take(**POWDER, confirmed=())
    got = goods.take(**POWDER)
    assert (got.event["no_printed_expiry"], got.event["due_by_plan"]) == (True, "shelf-life")
    assert goods.hold("P-1") is None
    event_said = parse_event(dict(got.event), "event")
    assert isinstance(event_said, Receive)
    assert delivery_lines(event_said, None, Places(None))[-2:] == [
        "to be used until 2027-03-02 07:00:00Z, by the plan's shelf life",
        "no printed expiry",
    ]


def test_a_delivery_sent_again_is_known_again(goods: GoodsIn) -> None:
    sent = delivery(**POWDER)
    first, again = goods.send(sent), goods.send(sent, confirmed=())
    assert (again.recorded.seq, again.recorded.repeated) == (first.recorded.seq, True)


# --- the moisture


@pytest.mark.parametrize(
    ("said", "reason"),
    [
        ({}, "POWDER: moisture not given; the plan's limit is 0.15 %"),
        ({"moisture_percent": "0.15"}, None),
        (
            {"moisture_percent": "0.16"},
            "POWDER: moisture 0.16 % is above the plan's limit of 0.15 %",
        ),
    ],
)
def test_powder_that_is_too_moist_or_of_unknown_moisture_is_held(
    said: dict[str, object], reason: str | None
) -> None:
    goods = GoodsIn(plan=DRY)
    event(goods, no_printed_expiry=True, **said)
    assert goods.hold("P-1") == reason


def test_a_delivery_passes_its_moisture_on_and_is_held_once() -> None:
    goods = GoodsIn(plan=DRY)
    got = goods.take(**POWDER, due=date(2026, 11, 7), moisture=Decimal("0.2"))
    assert got.event["moisture_percent"] == "0.2"
    assert got.event["hold"] == "POWDER: moisture 0.2 % is above the plan's limit of 0.15 %"


def test_without_a_limit_no_moisture_is_asked(goods: GoodsIn) -> None:
    event(goods, due="2026-11-07T22:59:59Z")
    assert goods.hold("P-1") is None


# --- the papers


def test_a_certificate_of_powder_proposes_batch_expiry_and_moisture(goods: GoodsIn) -> None:
    (read,) = paper(goods)
    assert reading_lines("c1.pdf", read.reading) == [
        "c1.pdf reads grade PA12; batch GW-4711; expiry 2028-11-07; moisture 0.08 %"
    ]


def test_an_expiry_read_otherwise_than_typed_is_a_question(goods: GoodsIn) -> None:
    said = {**POWDER, "papers": paper(goods)}
    wrong = "c1.pdf reads the expiry 2028-11-07, not 2026-11-07"
    assert wrong in goods.propose(**said, due=date(2026, 11, 7)).questions
    right = goods.propose(**said, due=date(2028, 11, 7))
    assert not [q for q in (*right.questions, *right.reasons) if "c1.pdf reads" in q]


def test_an_expiry_that_was_read_and_not_confirmed_is_never_called_not_printed(
    goods: GoodsIn,
) -> None:
    for line in ("Best before 07.11.2028", "Best before 07/11/2028"):
        proposal = goods.propose(**POWDER, papers=paper(goods, ["PA12 GW-4711", line]))
        assert QUESTION not in proposal.questions
        assert not proposal.event.no_printed_expiry
        assert NOT_GIVEN in proposal.reasons


def test_a_moisture_confirmed_otherwise_than_read_is_a_question() -> None:
    goods = GoodsIn(plan=DRY)
    said = {**POWDER, "papers": paper(goods), "due": date(2028, 11, 7)}
    wrong = "moisture 0.05 % is confirmed, c1.pdf reads 0.08 %"
    assert wrong in goods.propose(**said, moisture=Decimal("0.05")).questions
    assert wrong not in goods.propose(**said, moisture=Decimal("0.08")).questions
