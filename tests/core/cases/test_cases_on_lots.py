"""What a case is on is what the question of the same code is about."""

from __future__ import annotations

from lotkin.core.cases.membership import all_cases, members_of
from lotkin.uses.asking.contain import contain
from tests.small_works import Works


def test_a_case_on_an_inspected_lot_holds_also_what_was_made_before_of_it() -> None:
    works = Works()
    works.receive("L", 100, part="SCREW")
    works.make({"T": 5}, {"L": 10}, run="RUN-1")
    # from here on the label L leads to the rest of the lot
    works.inspect("L", "Q-1")
    works.do("open-case", case="CASE-1", subjects=["L"], reason="cracks")

    named = {"L", *(row.code for row in contain(works.store, ["L"]).answer.items)}
    with works.store.reading() as view:
        (case,) = all_cases(view)
        assert set(members_of(view, case)) == named >= {"T", "L/2"}
