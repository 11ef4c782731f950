"""A test has a verdict only where unit, rig and test fit; else it is not judged, never passed."""

from __future__ import annotations

import json

import pytest

from lotkin.core.errors import RuleBroken
from tests.core.events.test_refusals import refusal
from tests.small_works import PLAN, Data, Works, moment


def works_with_a_rig() -> Works:
    """Give a works with a unit, a rig, and a lathe."""
    works = Works(plan=PLAN)
    works.receive("S1", 100)
    works.receive("T1", 50, item_kind="machined-lot", part="TIP")
    works.mount({"P1": "T1", "P2": "S1"})
    works.build("U1")
    works.resource("RIG", "gauge")
    works.resource("LATHE", "machine")
    works.resource("OLD-RIG", "gauge", due=moment(3))
    return works


def verdict(works: Works, seq: int) -> object:
    with works.store.reading() as view:
        return view.entry(seq).data.get("passed", "not judged")


GOOD: Data = {"unit": "U1", "name": "Leak", "readings": [0], "resources": ["RIG"]}
MISFITS: list[tuple[Data, str]] = [
    ({"name": "leak"}, "unknown-test"),
    ({"name": "Pressure", "readings": [-5]}, "unknown-test"),
    ({"resources": ["LATHE"]}, "no-test-equipment"),
    ({"resources": ["S1"]}, "no-test-equipment"),
    ({"resources": ["OLD-RIG"]}, "past-due"),
]


def test_a_test_of_the_plan_by_a_rig_in_its_period_passes() -> None:
    works = works_with_a_rig()

    assert verdict(works, works.do("test", **GOOD).seq) is True
    assert verdict(works, works.do("test", **{**GOOD, "readings": [2]}).seq) is False


@pytest.mark.parametrize(("change", "rule"), MISFITS, ids=[f"{c}" for c, _ in MISFITS])
def test_a_test_that_does_not_fit_is_refused_and_reported_it_is_not_judged(
    change: Data, rule: str
) -> None:
    works = works_with_a_rig()
    data = works.data("test", **{**GOOD, **change})
    error = refusal(works, json.dumps(data))
    assert isinstance(error, RuleBroken)
    assert error.rule == rule

    done = works.send_in({**data, "reported": True})
    assert rule in {breach.rule for breach in done.breaches}
    assert verdict(works, done.seq) == "not judged"
    with works.store.reading() as view:
        assert not view.facts("test", "U1")
        assert view.hold("U1") is None


def test_the_name_of_a_test_in_another_case_is_asked_about() -> None:
    works = works_with_a_rig()
    error = refusal(works, json.dumps(works.data("test", **{**GOOD, "name": "leak"})))

    assert error.message == "U1: PUMP has no test leak in the plan"
    assert error.hint == "did you mean Leak?"


def test_a_unit_at_a_customer_is_not_tested_there() -> None:
    works = works_with_a_rig()
    works.do("test", **GOOD)
    works.ship("SHIP-1", "U1")
    data = works.data("test", **GOOD)

    assert "U1 is at CLINIC" in refusal(works, json.dumps(data)).message
    done = works.send_in({**data, "reported": True})
    assert verdict(works, done.seq) == "not judged"
    works.amend(done, note="rang them up")
    with works.store.reading() as view:
        assert [fact.event for fact in view.facts("test", "U1")] == [9]


def test_the_limits_are_those_of_the_plan_whatever_is_sent() -> None:
    works = works_with_a_rig()
    data = works.data("test", **{**GOOD, "readings": [2]}, max=5)

    assert "max of Leak is 1 in the plan, not 5" in refusal(works, json.dumps(data)).message
    done = works.send_in({**data, "reported": True})
    assert verdict(works, done.seq) is False


def test_where_there_is_no_plan_readings_can_fail_a_unit_and_never_pass_it() -> None:
    works = Works()
    works.receive("S1", 10)
    works.build("U1", None, place="SHELF", inputs={"S1": 2})

    assert verdict(works, works.test("U1", 0, max=1).seq) == "not judged"
    assert verdict(works, works.test("U1", 2, max=1).seq) is False
    with works.store.reading() as view:
        assert view.hold("U1") == "failed: Leak"


def test_a_lot_is_not_inspected_with_another_lot() -> None:
    works = works_with_a_rig()
    data = works.data(
        "inspect", item="T1", inspection="LOOK", result="accepted", resources=["S1"], place="SHELF"
    )

    assert "S1 is a purchased-lot" in refusal(works, json.dumps(data)).message
