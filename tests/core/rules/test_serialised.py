"""A part of which each piece carries a serial is recorded piece by piece, at every door."""

from __future__ import annotations

from decimal import Decimal
from uuid import UUID

import pytest

from lotkin.core.errors import RuleBroken
from lotkin.core.plan import parse_plan
from lotkin.uses.asking.show import show
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.lookup.find import find
from lotkin.uses.recording.delivery import Delivery
from lotkin.uses.recording.delivery_findings import findings_of
from tests.small_works import PLAN, Works

ROUTE = (
    'step = [{code = "10", name = "Mill", run = "machining-run", at = "FLOOR", inputs = ["BAR"]}, '
    '{code = "20", name = "Engrave", run = "machining-run", at = "FLOOR"}, '
    '{code = "30", name = "Anodise", run = "outside-batch", at = "ANODISER"}]'
)
SERIALS = PLAN.replace(
    "part = [\n",
    "part = [\n"
    '  {code = "MOTOR", name = "Motor", revision = "A", kind = "purchased-lot", unit = "pcs", '
    'serialised = true, serials = ["M-###"]},\n'
    '  {code = "BODY", name = "Body", revision = "A", kind = "machined-lot", unit = "pcs", '
    f"serialised = true, {ROUTE}}},\n"
    '  {code = "SEAL", name = "Seal", revision = "A", kind = "purchased-lot", unit = "pcs", '
    "serialised = false},\n",
)


def breaches(works: Works) -> list[str]:
    """Name the rules that the last event broke."""
    with works.store.reading() as view:
        return [breach.rule for breach in view.entry(works.log[-1].seq).breaches]


@pytest.mark.parametrize(
    ("said", "match"),
    [
        ({"quantity": 50}, "50 pcs of MOTOR, each piece of which carries a serial"),
        ({"quantity": 50, "serial": "M-001"}, "50 pcs of MOTOR"),
        ({"quantity": 1}, "BOX has no serial, but each piece of MOTOR carries one"),
        ({"quantity": 1, "serial": "M-1"}, "serials of MOTOR are written M-###"),
    ],
)
def test_a_delivery_without_serials_is_refused_and_when_reported_told(
    said: dict[str, object], match: str
) -> None:
    works = Works(plan=SERIALS)
    with pytest.raises(RuleBroken, match=match):
        works.receive("BOX", part="MOTOR", **said)
    works.receive("BOX", part="MOTOR", reported=True, **said)
    assert len(breaches(works)) == 1


def test_a_delivery_of_one_piece_with_its_serial_breaks_nothing() -> None:
    works = Works(plan=SERIALS)
    works.receive("BOX-1", 1, part="MOTOR", serial="M-001")
    assert breaches(works) == []
    assert find(works.store, "M-001").item.code == "BOX-1"


def milled(works: Works) -> None:
    """Mill a lot of bodies, which have no serials yet."""
    works.bar("BAR-1")
    lot = {"code": "RAW", "part": "BODY", "quantity": 5, "place": "FLOOR"}
    works.do("make", inputs=[{"item": "BAR-1", "quantity": 1}], outputs=[lot], step="10")
    lot = {"code": "CUT", "part": "BODY", "quantity": 5, "place": "FLOOR"}
    works.do("make", inputs=[{"item": "RAW"}], outputs=[lot], step="20")


def test_before_the_last_step_pieces_need_no_serial() -> None:
    works = Works(plan=SERIALS)
    milled(works)
    assert breaches(works) == []


def back(works: Works, quantity: int, **said: object) -> None:
    """Take bodies back from the last step."""
    output = {"code": "B-1", "part": "BODY", "quantity": quantity, "place": "SHELF"}
    returns = [{"output": output, "of": [{"item": "CUT"}]}]
    works.do("take-back", batch="OUT", returns=returns, **said)


def test_a_lot_of_the_last_step_is_refused_and_when_reported_told() -> None:
    works = Works(plan=SERIALS)
    milled(works)
    works.send("OUT", {"CUT": 5}, step="30")
    with pytest.raises(RuleBroken, match="5 pcs of BODY, each piece of which carries a serial"):
        back(works, 5)
    back(works, 5, reported=True)
    assert breaches(works) == ["serial-missing"]
    assert show(works.store, "B-1").item.serial == ""


def test_one_piece_of_the_last_step_has_its_code_for_a_serial() -> None:
    works = Works(plan=SERIALS)
    milled(works)
    works.send("OUT", {"CUT": 5}, step="30")
    back(works, 1)
    assert breaches(works) == []
    assert show(works.store, "B-1").item.serial == "B-1"
    assert rebuild(works.store, check_only=True).difference == ""


def test_a_serial_that_was_put_on_leads_to_the_piece_and_goes_with_it() -> None:
    works = Works(plan=SERIALS)
    works.bar("BAR-1")
    piece = {"code": "B-7", "part": "BODY", "quantity": 1, "place": "FLOOR", "serial": "S-1007"}
    works.do(
        "make", inputs=[{"item": "BAR-1", "quantity": 1}], outputs=[piece], step="30", reported=True
    )
    assert find(works.store, "S-1007").item.code == "B-7"
    again = {"code": "B-7R", "part": "BODY", "quantity": 1, "place": "FLOOR"}
    works.do("make", inputs=[{"item": "B-7"}], outputs=[again], step="30", reported=True)
    assert show(works.store, "B-7R").item.serial == "S-1007"
    assert find(works.store, "S-1007").item.code == "B-7R"
    assert rebuild(works.store, check_only=True).difference == ""


def test_pieces_with_serials_are_not_tipped_together_unsaid() -> None:
    works = Works(plan=SERIALS)
    works.receive("M1", 1, part="MOTOR", serial="M-001")
    works.receive("M2", 1, part="MOTOR", serial="M-002")
    with pytest.raises(RuleBroken, match="2 pcs of MOTOR"):
        works.pool("BIN", ["M1", "M2"])
    works.pool("BIN", ["M1", "M2"], reported=True)
    assert breaches(works) == ["serial-missing"]


def test_an_import_of_lots_without_serials_is_taken_and_told_once() -> None:
    works = Works(plan=SERIALS)
    rows = [
        [f"OLD-{i}", "purchased-lot", "MOTOR", pieces * 1_000_000, "pcs", None]
        for i, pieces in enumerate((1, 50, 20))
    ]
    works.do("import", items=rows, links=[])
    with works.store.reading() as view:
        (breach,) = view.entry(works.log[-1].seq).breaches
    assert breach.rule == "serial-missing"
    assert breach.message.startswith("OLD-1 and 1 more of MOTOR: not one piece each")


def piece(part: str, serial: str = "") -> Delivery:
    """Give a delivery of one piece."""
    return Delivery(
        id=UUID(int=1), part=part, by="ANN", place="SHELF", quantity=Decimal(1), serial=serial
    )


def found(part: str, serial: str = "") -> dict[str, str]:
    """Give what goods-in finds of a delivery of one piece, by the name of the finding."""
    plan, _ = parse_plan(SERIALS, "plan.toml")
    works = Works(plan=SERIALS)
    with works.store.reading() as view:
        return {each.rule: each.message for each in findings_of(view, plan, piece(part, serial), 0)}


def test_goods_in_asks_about_a_serial_of_a_part_that_has_none() -> None:
    assert found("SEAL", serial="X-1")["serial-not-planned"] == (
        "SEAL: the serial X-1 was given, but by the plan no piece carries one"
    )
    assert "serial-not-planned" not in found("SEAL")
    assert "serial-not-planned" not in found("SCREW", serial="X-1")
    assert "serial-not-planned" not in found("MOTOR", serial="M-001")


def test_goods_in_lacks_the_serial_until_it_is_given() -> None:
    plan, _ = parse_plan(SERIALS, "plan.toml")
    assert piece("MOTOR").lacks(plan) == ["serial"]
    assert piece("MOTOR", "M-001").lacks(plan) == []
    assert piece("SCREW").lacks(plan) == []


@pytest.mark.parametrize(
    ("changed", "to", "said"),
    [
        ('unit = "pcs", serialised = true', 'unit = "kg", serialised = true', "kept in kg"),
        (
            'code = "PUMP", name',
            'code = "PUMP", serialised = false, name',
            "a unit always has a serial",
        ),
        (
            "serialised = true, serials",
            "serialised = false, serials",
            "serials says how they are written",
        ),
    ],
)
def test_a_plan_that_contradicts_itself_on_serials_is_not_loaded(
    changed: str, to: str, said: str
) -> None:
    assert changed in SERIALS
    plan, problems = parse_plan(SERIALS.replace(changed, to), "plan.toml")
    assert plan is None
    assert any(said in problem.message for problem in problems)
