"""What a window takes in, and what is said when it takes in nothing."""

from __future__ import annotations

import pytest

from lotkin.core.cases.membership import find_case, members_of
from lotkin.core.errors import NothingOverlaps, RuleBroken
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.hold_first import hold_first
from lotkin.uses.asking.next_question import next_question
from lotkin.uses.asking.where import Question
from lotkin.uses.asking.window import Window
from lotkin.uses.cases.case_work import show_case
from tests.small_works import PLAN, Works, minute, moment


def during(start: int | None, end: int | None) -> Question:
    return Question(
        window=Window(
            None if start is None else minute(start), None if end is None else minute(end)
        )
    )


@pytest.fixture
def works() -> Works:
    """Two runs on one machine: R1 from minute 10 to 20, R2 from 40 to 50."""
    works = Works(plan=PLAN)
    works.resource("MILL", "machine", at=1)
    works.resource("LATHE", "machine", at=1)
    works.receive("BAR", 100, at=2)
    works.make({"A": 5}, {"BAR": 5}, run="R1", started=moment(10), resources=["MILL"], at=20)
    works.make({"B": 5}, {"BAR": 5}, run="R2", started=moment(40), resources=["MILL"], at=50)
    return works


def sent(works: Works) -> None:
    works.receive("L1", 10, at=60)
    works.receive("L2", 10, at=60)
    works.send("BATCH", {"L1": 10, "L2": 10}, at=70)


def test_a_window_between_two_runs_says_so_and_names_both(works: Works) -> None:
    with pytest.raises(NothingOverlaps, match="no run of MILL overlaps") as caught:
        works.used("MILL", during(25, 35))
    said = caught.value.message
    assert "the nearest before: R1" in said
    assert "the nearest after: R2" in said
    assert "of 2 on record none with a time not recorded" in said
    assert caught.value.exit_status == 1


@pytest.mark.parametrize("ask", [contain, hold_first, next_question])
def test_no_question_answers_with_zeros_for_a_time_in_which_nothing_was_done(
    works: Works, ask: object
) -> None:
    assert callable(ask)
    with pytest.raises(NothingOverlaps, match="no run of MILL overlaps"):
        ask(works.store, ["MILL"], during(25, 35))


def test_what_was_never_used_says_that_nothing_is_recorded(works: Works) -> None:
    with pytest.raises(NothingOverlaps, match="nothing that was done with it is recorded"):
        works.used("LATHE", during(25, 35))


def test_of_several_named_those_left_out_are_told(works: Works) -> None:
    works.resource("SAW", "machine", at=3)
    works.make({"C": 5}, {"BAR": 5}, run="R3", started=moment(25), resources=["SAW"], at=30)
    found = contain(works.store, ["MILL", "SAW"], during(26, 29))
    assert [one.code for one in found.answer.outside] == ["MILL"]
    assert {row.code for row in found.answer.items} == {"R3", "C"}


def test_nothing_is_told_as_left_out_where_all_is_taken_in(works: Works) -> None:
    found = contain(works.store, ["MILL"], during(15, 15))
    assert found.answer.outside == ()


def test_a_run_without_a_recorded_start_is_always_listed_before_its_end_and_marked(
    works: Works,
) -> None:
    works.make({"C": 5}, {"BAR": 5}, run="R3", resources=["MILL"], at=60)
    found = works.used("MILL", during(25, 35))
    assert found.keys() == {"R3", "C"}
    assert found["R3"].start_not_recorded
    assert not works.used("MILL")["R3"].start_not_recorded
    assert not works.used("MILL", during(45, 46))["R2"].start_not_recorded


def test_a_run_without_a_recorded_start_is_not_listed_after_its_end(works: Works) -> None:
    works.make({"C": 5}, {"BAR": 5}, run="R3", resources=["MILL"], at=60)
    with pytest.raises(NothingOverlaps, match="the nearest before: R3") as caught:
        works.used("MILL", during(61, 70))
    assert "of 3 on record 1 with a time not recorded" in caught.value.message


def test_an_outside_batch_lasts_while_anything_is_out(works: Works) -> None:
    sent(works)
    works.take_back("BATCH", {"T1": (10, {"L1": 10})}, at=80)
    assert works.used("BATCH", during(1000, 1001)).keys() == {"T1"}
    works.take_back("BATCH", {"T2": (10, {"L2": 10})}, at=90)
    assert works.used("BATCH", during(85, 86)).keys() == {"T1", "T2"}
    with pytest.raises(NothingOverlaps):
        works.used("BATCH", during(91, 1001))
    with pytest.raises(NothingOverlaps):
        works.used("BATCH", during(65, 69))


def test_what_is_out_with_a_batch_is_taken_in_before_any_of_it_is_back(works: Works) -> None:
    sent(works)
    found = contain(works.store, ["BATCH"], during(75, 76))
    assert {row.code for row in found.subject_rows} >= {"L1", "L2"}


def test_a_lot_sent_outside_was_treated_on_any_day_that_it_was_away(works: Works) -> None:
    sent(works)
    works.take_back("BATCH", {"T1": (10, {"L1": 10}), "T2": (10, {"L2": 10})}, at=90)
    assert works.used("L1", during(75, 76)).keys() == {"T1"}


def test_a_sending_told_late_makes_its_batch_begin_earlier(works: Works) -> None:
    sent(works)
    works.receive("L0", 10, at=60)
    works.send("BATCH", {"L0": 10}, at=65, reported=True)
    works.take_back("BATCH", {"T1": (10, {"L1": 10})}, at=90)
    assert works.used("BATCH", during(66, 67)).keys() == {"T1"}


def test_a_batch_still_out_on_the_day_asked_as_of_lasts(works: Works) -> None:
    sent(works)
    works.take_back("BATCH", {"T1": (10, {"L1": 10})}, at=80)
    then = works.head()
    works.take_back("BATCH", {"T2": (10, {"L2": 10})}, at=90)
    window = during(95, 96).window
    assert works.used("BATCH", Question(window=window, as_of=then)).keys() == {"T1"}


def test_a_case_that_would_take_in_nothing_is_refused_when_asked(works: Works) -> None:
    with pytest.raises(RuleBroken, match="no run of MILL overlaps"):
        opened(works, "MILL")
    with pytest.raises(RuleBroken, match="no run of LATHE overlaps"):
        opened(works, "MILL", "LATHE", start=moment(41), end=moment(42))


def opened(works: Works, *subjects: str, **more: object) -> None:
    said = {"subjects": list(subjects), "start": moment(25), "end": moment(35), **more}
    works.do("open-case", case="C-1", reason="chips", **said)


def test_a_case_that_was_reported_with_such_a_window_is_recorded_and_can_be_shown(
    works: Works,
) -> None:
    opened(works, "MILL", reported=True)
    shown = show_case(works.store, "C-1")
    assert [one.code for one in shown.containment.answer.outside] == ["MILL"]
    head = works.head()
    with works.store.reading() as view:
        assert [b.rule for b in view.entry(head).breaches] == ["nothing-overlaps"]


def test_a_case_holds_what_a_question_with_its_window_lists(works: Works) -> None:
    sent(works)
    works.take_back("BATCH", {"T1": (10, {"L1": 10})}, at=80)
    opened(works, "BATCH", start=moment(75), end=moment(76))
    with works.store.reading() as view:
        case = find_case(view, "C-1")
        assert case is not None
        assert set(members_of(view, case)) == {"BATCH", "T1"}
