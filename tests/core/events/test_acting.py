"""Who did it, and when: asked, only people of the plan and their rights; reported, a breach."""

from __future__ import annotations

import json

import pytest

from lotkin.core.access.rights import Who, rights_of
from lotkin.core.errors import RuleBroken
from lotkin.core.events.reading import parse_event
from lotkin.uses.recording.record import record
from tests.core.events.test_refusals import refusal
from tests.small_works import PLAN, Data, Works, moment

PEOPLE = """
[[person]]
code = "ANN"
name = "Ann"
roles = ["quality", "admin"]

[[person]]
code = "OLE"
name = "Ole"
roles = ["operator"]
"""


def staffed() -> Works:
    """Give a works with two people and a lot of screws that quality has rejected."""
    works = Works(plan=PLAN + PEOPLE)
    works.receive("S1", 100)
    works.receive("S2", 100)
    works.inspect("S1", "LOOK", "rejected")
    return works


def hold(works: Works, code: str) -> str | None:
    with works.store.reading() as view:
        return view.hold(code)


ACCEPTED: Data = {"item": "S1", "inspection": "AGAIN", "result": "accepted"}


def test_an_operator_does_not_free_what_quality_has_rejected() -> None:
    works = staffed()
    error = refusal(works, json.dumps(works.data("inspect", **ACCEPTED, by="OLE")))

    assert isinstance(error, RuleBroken)
    assert error.rule == "no-right"
    assert "S1 is held (rejected: burr)" in error.message
    assert works.do("inspect", **{**ACCEPTED, "item": "S2"}, by="OLE").breaches == ()


def test_a_reported_acceptance_by_an_operator_is_a_breach_and_the_hold_stays() -> None:
    works = staffed()
    done = works.do("inspect", **ACCEPTED, by="OLE", reported=True)

    assert [breach.rule for breach in done.breaches] == ["no-right"]
    assert hold(works, "S1") == "rejected: burr"
    works.amend(done, note="seen twice")
    assert hold(works, "S1") == "rejected: burr"


def test_a_reported_acceptance_by_somebody_who_is_not_in_the_plan_frees_nothing() -> None:
    works = staffed()
    done = works.do("inspect", **ACCEPTED, by="NOBODY", reported=True)

    assert [breach.rule for breach in done.breaches] == ["unknown-person", "no-right"]
    assert hold(works, "S1") == "rejected: burr"


def test_quality_frees_what_it_has_rejected() -> None:
    works = staffed()
    works.do("inspect", **ACCEPTED)

    assert hold(works, "S1") is None


def test_a_sign_in_with_fewer_rights_than_the_person_does_not_free_a_hold() -> None:
    works = staffed()
    event = parse_event(works.data("inspect", **ACCEPTED), "test")
    at_a_station = Who("ANN", "Ann", rights_of(["operator"]))
    with pytest.raises(RuleBroken, match="may not free it"):
        record(works.store, [event], works.clock, sender=at_a_station)


def test_taking_back_a_rejection_does_not_free_it_either() -> None:
    works = staffed()
    rejected = works.inspect("S2", "LOOK-2", "rejected", by="OLE")
    sent = json.dumps(works.data("void", event=rejected.id, reason="x", by="OLE"))

    error = refusal(works, sent)
    assert "OLE may not record void" in error.message


def test_somebody_takes_back_what_they_recorded_themselves() -> None:
    works = staffed()
    moved = works.do("move", item="S2", to_place="FLOOR", by="OLE")
    others = works.do("scrap", item="S2", quantity=1, reason="bent", place="FLOOR")

    sent = json.dumps(works.data("void", event=others.id, reason="x", by="OLE"))
    assert "OLE may not record void" in refusal(works, sent).message
    works.void(others)
    works.do("void", event=moved.id, reason="did not happen", by="OLE")
    assert works.stock("S2") == {"SHELF": 100}


@pytest.mark.parametrize(
    ("kind", "fields"),
    [
        ("move", {"item": "S2", "to_place": "FLOOR"}),
        ("open-case", {"case": "CASE-1", "subjects": ["S2"], "reason": "x"}),
        ("inspect", ACCEPTED),
        ("plan", {"plan": {"works": {"name": "W", "timezone": "UTC"}}}),
    ],
)
def test_nobody_of_the_plan_is_refused_when_asked(kind: str, fields: Data) -> None:
    works = staffed()
    error = refusal(works, json.dumps(works.data(kind, **fields, by="ghost")))

    assert isinstance(error, RuleBroken)
    assert (error.rule, error.message) == ("unknown-person", "ghost is nobody of the plan")


def test_what_nobody_of_the_plan_did_is_recorded_with_a_breach_when_reported() -> None:
    works = staffed()
    done = works.do("move", item="S2", to_place="FLOOR", by="ghost", reported=True)

    assert [breach.rule for breach in done.breaches] == ["unknown-person"]
    assert works.stock("S2") == {"FLOOR": 100}


def test_rows_that_nobody_of_the_plan_imports_are_recorded_with_a_breach() -> None:
    works = staffed()
    row = ["OLD-1", "purchased-lot", "SCREW", 5_000_000, "pcs", None]
    done = works.do("import", items=[row], by="ghost")

    assert [breach.rule for breach in done.breaches] == ["unknown-person"]


def test_a_correction_does_not_name_nobody_of_the_plan() -> None:
    works = staffed()
    moved = works.do("move", item="S2", to_place="FLOOR")
    change = {"event": moved.id, "patch": {"by": "ghost"}}

    error = refusal(works, json.dumps(works.data("amend", reason="x", changes=[change])))
    assert error.message == "ghost is nobody of the plan"


def test_a_machine_of_the_works_records_what_it_did() -> None:
    works = staffed()
    works.resource("LATHE-1", "machine")

    assert works.do("move", item="S2", to_place="FLOOR", by="LATHE-1").breaches == ()


@pytest.mark.parametrize("kind", ["open-case", "amend"])
def test_an_operator_named_at_the_command_line_neither_opens_nor_corrects(kind: str) -> None:
    works = staffed()
    moved = works.do("move", item="S2", to_place="FLOOR")
    fields: dict[str, Data] = {
        "open-case": {"case": "CASE-1", "subjects": ["S2"], "reason": "x"},
        "amend": {"reason": "x", "changes": [{"event": moved.id, "patch": {"note": "x"}}]},
    }
    error = refusal(works, json.dumps(works.data(kind, **fields[kind], by="OLE")))

    assert f"OLE may not record {kind}" in error.message


@pytest.mark.parametrize("plan", ["", PLAN], ids=["no plan", "a plan without people"])
def test_where_no_plan_names_people_nobody_is_checked(plan: str) -> None:
    works = Works(plan=plan)
    works.receive("S1", 100, by="anybody")
    works.inspect("S1", "LOOK", "rejected", by="anybody")
    works.inspect("S1", "LOOK-2", by="anybody")

    assert hold(works, "S1") is None


def test_a_moment_in_the_future_is_refused_when_asked() -> None:
    works = staffed()
    sent = works.data("move", item="S2", to_place="FLOOR")

    error = refusal(works, json.dumps({**sent, "at": "2031-01-01T00:00:00Z"}))
    assert isinstance(error, RuleBroken)
    assert error.rule == "in-the-future"
    assert "2031-01-01T00:00:00Z, which is in the future" in error.message


def test_a_reported_moment_in_the_future_is_placed_when_it_was_recorded() -> None:
    works = staffed()
    sent = works.data("move", item="S2", to_place="FLOOR", reported=True)
    sent["at"] = "2031-01-01T00:00:00Z"
    done = works.send_in(sent)

    assert [breach.rule for breach in done.breaches] == ["in-the-future"]
    with works.store.reading() as view:
        entry = view.entry(done.seq)
    assert entry.at == entry.recorded_at
    assert entry.data["claimed_at"] == "2031-01-01T00:00:00Z"
    assert works.send_in(sent).repeated


def test_the_clock_of_a_device_may_be_some_minutes_ahead() -> None:
    works = staffed()
    sent = works.data("move", item="S2", to_place="FLOOR")

    assert works.send_in({**sent, "at": moment(works.minute + 4)}).breaches == ()


def test_a_correction_does_not_place_an_event_in_the_future() -> None:
    works = staffed()
    moved = works.do("move", item="S2", to_place="FLOOR")
    change = {"event": moved.id, "patch": {"at": "2031-01-01T00:00:00Z"}}

    error = refusal(works, json.dumps(works.data("amend", reason="x", changes=[change])))
    assert "in the future" in error.message
