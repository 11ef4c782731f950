"""An answer as of a journal position stays what it was, whatever is recorded later."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from lotkin.core.errors import NothingOverlaps, UnknownCode, UnknownEvent
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.where import Question, where_used
from lotkin.uses.asking.window import Window
from tests.small_works import PLAN, Works, minute

if TYPE_CHECKING:
    from lotkin.core.answers.containment import Containment


def contained(works: Works, code: str, as_of: int | None = None) -> Containment:
    return contain(works.store, [code], Question(as_of=as_of))


def test_a_place_is_of_the_kind_that_the_plan_of_the_day_said() -> None:
    works = Works()
    works.receive("S1", place="RED-BOX")
    works.split("S1", {"S2": 5})
    then, position = works.used("S1"), works.head()
    works.plan(PLAN)

    assert works.used("S1", Question(as_of=position)) == then
    assert works.used("S1")["S2"].at[0].place_kind == "quarantine"


def test_what_is_left_of_a_batch_is_told_though_the_lot_was_voided_later() -> None:
    works = Works()
    received = works.receive("T1", part="TIP")
    sent = works.send("OUT", {"T1": 40})
    then, position = contained(works, "OUT"), works.head()
    works.void(sent)
    works.void(received)
    again = contained(works, "OUT", as_of=position)

    assert again.accounts == then.accounts
    assert again.subject_rows == then.subject_rows
    assert again.places == then.places


def test_a_voided_receipt_is_unknown_now_and_known_as_of_then() -> None:
    works = Works()
    received = works.receive("S1")
    works.void(received)

    with pytest.raises(UnknownCode):
        works.used("S1")
    assert where_used(works.store, "S1", Question(as_of=1)).subjects[0].code == "S1"


def test_an_item_that_was_voided_and_made_anew_is_told_apart_by_position() -> None:
    works = Works()
    works.receive("S1", 100)
    split = works.split("S1", {"S2": 30})
    works.void(split)
    works.split("S1", {"S2": 20})

    assert works.used("S1", Question(as_of=2))["S2"].quantity == 30_000_000
    assert works.used("S1", Question(as_of=3)) == {}
    assert works.used("S1", Question(as_of=4))["S2"].quantity == 20_000_000


def test_a_time_asked_about_is_of_the_day_as_well() -> None:
    works = Works()
    works.receive("S1", at=1)
    split = works.split("S1", {"S2": 30}, at=10)
    position, around = works.head(), Window(minute(9), minute(11))
    works.amend(split, at=5)

    with pytest.raises(NothingOverlaps):
        works.used("S1", Question(window=around))
    assert works.used("S1", Question(window=around, as_of=position)).keys() == {"S2"}


def test_a_test_counts_at_the_time_that_it_was_corrected_to() -> None:
    works = Works()
    works.receive("S1", at=1)
    works.resource("GAUGE", "gauge", at=1)
    works.build("U1", None, inputs={"S1": 1}, place="FLOOR", at=2)
    tested = works.test("U1", resources=["GAUGE"], at=5)
    position, around = works.head(), Window(minute(9), minute(11))
    works.amend(tested, at=10)

    assert works.used("GAUGE", Question(window=around)).keys() == {"U1"}
    with pytest.raises(NothingOverlaps, match="the nearest before: U1"):
        works.used("GAUGE", Question(window=around, as_of=position))


def test_a_hold_counts_as_of_its_day() -> None:
    works = Works()
    works.receive("S1")
    works.split("S1", {"S2": 30})
    works.inspect("S2", "LOOK", "rejected")

    assert not works.used("S1", Question(as_of=2))["S2"].held
    assert works.used("S1", Question(as_of=3))["S2"].held


@pytest.mark.parametrize("position", [-1, 3])
def test_a_position_that_the_journal_does_not_have_is_refused(position: int) -> None:
    works = Works()
    works.receive("S1")
    works.receive("S2")

    with pytest.raises(UnknownEvent):
        works.used("S1", Question(as_of=position))
