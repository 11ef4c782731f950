"""Steps of random histories that are about suspicions: cases and what is decided in them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.cases.membership import DECISIONS, all_cases, members_of
from tests.histories import History

if TYPE_CHECKING:
    from collections.abc import Callable

    from lotkin.core.cases.membership import Case
    from tests.small_works import Data

__all__ = ["CASES"]


def cases_of(history: History) -> list[Case]:
    """List the cases of a works."""
    with history.works.store.reading() as view:
        return all_cases(view)


def open_case(history: History) -> Data:
    """A case is opened on an item or two."""
    subjects = history.several(tuple(history.items), most=2)
    code = history.new_code("CASE")
    return history.event("open-case", case=code, subjects=subjects, reason="cracks")


def decide(history: History) -> Data:
    """Something is decided on members of a case, for all or part of one."""
    case = history.pick(cases_of(history))
    with history.works.store.reading() as view:
        members = list(members_of(view, case))
    rows: list[Data] = []
    for code in history.several(members):
        row: Data = {"item": code}
        spots = history.spots(code)
        if spots and history.once_in(2):
            spot = history.pick(spots)
            quantity = history.quantity(history.items[code].unit, history.stock[code][spot])
            row |= {"place": spot.place, "within": spot.within or None, "quantity": quantity}
        rows.append(row)
    decision = history.pick(DECISIONS)
    return history.event(
        "decide", case=case.code, members=rows, decision=decision, reason="seen", evidence="report"
    )


def close_case(history: History) -> Data:
    """A case is closed, if all is decided or somebody says so."""
    case = history.pick(cases_of(history))
    return history.event("close-case", case=case.code, reason="done")


CASES: tuple[Callable[[History], Data], ...] = (open_case, decide, decide, close_case)
"""All steps that are about cases."""
