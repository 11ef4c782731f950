"""What is not as the plan has it is recorded as it was, and held: whoever records it, and where."""

from __future__ import annotations

import json

import pytest

from lotkin.core.errors import RuleBroken
from lotkin.store.beside.documents import Documents
from lotkin.uses.asking.audit import audit
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.evidence.verify import verify
from tests.scanning.station import ScannedWorks


@pytest.fixture
def works() -> ScannedWorks:
    return ScannedWorks()


def hold(works: ScannedWorks, code: str) -> str | None:
    with works.store.reading() as view:
        return view.hold(code)


def turned(works: ScannedWorks, diameter: str, **fields: object) -> str:
    """Turn stems with this diameter; the plan asks for 5.97 to 6.00 mm."""
    works.event(
        "receive", code="BAR", item_kind="bar-lot", part="BAR-8", quantity=30, place="STORE"
    )
    run = {
        "code": "RUN",
        "run_kind": "machining-run",
        "resources": ["LATHE-1"],
        "measures": {"diameter": diameter},
    }
    return works.event(
        "make",
        step="10",
        station="LATHE",
        run=run,
        inputs=[{"item": "BAR", "quantity": 3}],
        outputs=[{"code": "STEMS", "part": "STEM", "quantity": 90}],
        **fields,
    )


def sent(works: ScannedWorks) -> None:
    works.event(
        "receive",
        code="BODIES",
        item_kind="purchased-lot",
        part="BLANK",
        quantity=90,
        place="STORE",
    )
    works.event("send", batch="OUT-1", supplier="ANOX", inputs=[{"item": "BODIES", "quantity": 90}])


def came_back(works: ScannedWorks, pieces: int, **fields: object) -> str:
    output = {"code": "BACK", "part": "BLANK", "quantity": pieces, "place": "STORE"}
    returns = [{"output": output, "of": [{"item": "BODIES"}]}]
    return works.event("take-back", batch="OUT-1", returns=returns, **fields)


def test_a_measure_out_of_limits_holds_what_was_made(works: ScannedWorks) -> None:
    with pytest.raises(RuleBroken, match="the plan asks for"):
        turned(works, "6.05")
    works = ScannedWorks()
    turned(works, "6.05", reported=True)
    assert hold(works, "STEMS") == "diameter is 6.05 mm, the plan asks for 5.97 to 6 mm"
    assert rebuild(works.store, check_only=True).difference == ""


def test_a_measure_within_its_limits_holds_nothing(works: ScannedWorks) -> None:
    turned(works, "6.00", reported=True)
    assert hold(works, "STEMS") is None


def test_a_measure_amended_out_of_limits_holds_too(works: ScannedWorks) -> None:
    event = turned(works, "5.98")
    patch = {"run": {"measures": {"diameter": "6.05"}}}
    works.event("amend", reason="misread", changes=[{"event": event, "patch": patch}])
    assert "6.05" in (hold(works, "STEMS") or "")


def test_a_temperature_out_of_limits_holds_what_was_dried(works: ScannedWorks) -> None:
    works.event(
        "receive",
        code="WET",
        item_kind="machined-lot",
        part="BODY",
        quantity=9,
        place="OVEN",
    )
    started = "2026-03-02T08:00:00Z"
    works.event(
        "make",
        step="20",
        station="OVEN",
        reported=True,
        run={"code": "DRY", "run_kind": "finishing-load", "started": started, "celsius": 90},
        inputs=[{"item": "WET"}],
        outputs=[{"code": "DRIED", "part": "BODY", "quantity": 9}],
    )
    assert "90 °C" in (hold(works, "DRIED") or "")


def test_an_inspection_accepts_nothing_that_is_out_of_limits(works: ScannedWorks) -> None:
    turned(works, "5.98")
    measure = {"name": "diameter", "values": ["6.05"], "unit": "mm", "min": "5.97", "max": "6.00"}
    looked = {"item": "STEMS", "inspection": "Q-1", "result": "accepted", "measures": [measure]}
    with pytest.raises(RuleBroken):
        works.event("inspect", **looked)
    works.event("inspect", **looked, reported=True)
    assert hold(works, "STEMS") == "accepted although out of limits: diameter"
    assert rebuild(works.store, check_only=True).difference == ""


def test_a_bar_without_the_certificate_its_part_asks_for_is_held(works: ScannedWorks) -> None:
    rod = {"item_kind": "bar-lot", "part": "ROD-5", "quantity": 30, "place": "STORE"}
    works.event("receive", code="R-1", **rod)
    works.event("receive", code="R-2", certificate="2.2", **rod)
    works.event("receive", code="R-3", certificate="3.1", **rod)
    assert hold(works, "R-1") == "ROD-5 needs a certificate 3.1; none came"
    assert hold(works, "R-2") == (
        "ROD-5 needs a certificate 3.1; a 2.2 came; "
        "ROD-5: nobody has compared the values on its certificate; it has no grade"
    )
    assert hold(works, "R-3") != "ROD-5 needs a certificate 3.1; none came"


def test_a_bar_whose_papers_came_is_never_said_to_have_come_with_none(works: ScannedWorks) -> None:
    paper = {"sha256": "a" * 64, "name": "c.pdf", "media_type": "application/pdf", "size": 7}
    rod = {"item_kind": "bar-lot", "part": "ROD-5", "quantity": 30, "place": "STORE"}
    works.event("receive", code="R-4", documents=[paper], **rod)
    assert hold(works, "R-4") == (
        "ROD-5 needs a certificate 3.1; c.pdf came, but nobody has said of which type"
    )


def test_the_receive_card_lets_nothing_in_that_goods_in_would_hold(works: ScannedWorks) -> None:
    works.done("STORE", "$RECEIVE", "ROD-5", "NORD", "H90909", "STORE", "30")
    code = works.only("bar-lot", "ROD-5")
    assert "needs a certificate 3.1" in (hold(works, code) or "")


def test_more_back_than_went_out_is_asked_about_and_never_free(works: ScannedWorks) -> None:
    sent(works)
    with pytest.raises(RuleBroken, match="110 pcs more came back of BODIES"):
        came_back(works, 200)
    came_back(works, 200, reported=True)
    assert "110 pcs more came back than were sent" in (hold(works, "BACK") or "")
    gaps = [
        gap
        for gap in audit(works.store, Documents(None), works.now).gaps
        if gap.kind == "rule-broken"
    ]
    assert any("more-than-sent" in gap.message for gap in gaps)
    assert verify(works.store).is_sound


def test_as_many_back_as_went_out_are_free(works: ScannedWorks) -> None:
    sent(works)
    came_back(works, 90)
    assert hold(works, "BACK") is None


def test_a_second_return_beyond_what_is_still_out_is_held(works: ScannedWorks) -> None:
    sent(works)
    came_back(works, 85)
    output = {"code": "BACK-2", "part": "BLANK", "quantity": 85, "place": "STORE"}
    returns = [{"output": output, "of": [{"item": "BODIES"}]}]
    works.event("take-back", batch="OUT-1", returns=returns, reported=True)
    assert "80 pcs more" in (hold(works, "BACK-2") or "")
    assert hold(works, "BACK") is None


def test_why_something_is_held_stands_in_the_journal(works: ScannedWorks) -> None:
    turned(works, "6.05", reported=True)
    with works.store.reading() as view:
        data = json.dumps(view.entry(view.journal_head()[0]).data, ensure_ascii=False)
    assert "5.97 to 6" in data
