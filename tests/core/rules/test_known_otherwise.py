"""Whoever records is told what a code is that no item goes by, at every door by the same rule."""

from __future__ import annotations

from decimal import Decimal

import pytest

from lotkin.core.errors import LotkinError, NamesAnother, NotAnItem, UnknownCode
from lotkin.uses.lookup.find import find
from lotkin.uses.recording.issue import find_traveller, issue_traveller
from tests.small_works import PLAN, Works, minute

OTHERS = {
    "SHELF": "SHELF is a place of the plan",
    "MILL": "MILL is a supplier of the plan",
    "CLINIC": "CLINIC is a customer of the plan",
    "TIP": "TIP is a part of the plan",
    "B1": "B1 is a bench of the plan",
    "CASE-9": "CASE-9 is a case, open: cracks",
}
DOORS = ["move", "inspect", "split", "return", "test"]


@pytest.fixture(scope="module")
def works() -> Works:
    """Give a works with a case, a shipment and a unit."""
    works = Works(plan=PLAN)
    works.receive("BAD", 100, part="SCREW")
    works.build("U1", bench=None, place="FLOOR", part="PUMP", inputs={"BAD": 2}, reported=True)
    works.test("U1")
    works.ship("SHIP-1", "U1")
    works.do("open-case", case="CASE-9", subjects=["BAD"], reason="cracks")
    return works


def refused(works: Works, door: str, code: str) -> LotkinError:
    said: dict[str, dict[str, object]] = {
        "move": {"item": code, "to_place": "SHELF"},
        "inspect": {"item": code, "inspection": "Q-1", "result": "accepted"},
        "split": {"item": code, "parts": [{"code": "X-1", "quantity": "1"}]},
        "return": {"item": code, "to_place": "SHELF", "reason": "leaks"},
        "test": {"unit": code, "name": "Leak", "readings": ["0"]},
    }
    with pytest.raises(LotkinError) as raised:
        works.do(door, **said[door])
    return raised.value


@pytest.mark.parametrize("code", OTHERS)
@pytest.mark.parametrize("door", DOORS)
def test_what_is_on_record_is_never_said_to_be_not_recorded(
    works: Works, door: str, code: str
) -> None:
    error = refused(works, door, code)

    assert isinstance(error, NotAnItem)
    assert error.message.startswith(OTHERS[code])
    assert "receive it first" not in error.hint


@pytest.mark.parametrize("door", DOORS)
def test_what_nobody_knows_is_still_not_recorded(works: Works, door: str) -> None:
    error = refused(works, door, "NEVER-HEARD")
    assert (error.message, error.kind) == ("NEVER-HEARD is not recorded", "unknown-code")


@pytest.mark.parametrize(
    ("place", "said"),
    [
        ("U1", "U1 is recorded as unit, not a place"),
        ("TIP", "TIP is a part of the plan, not a place"),
        ("scrap", "scrap is kept for what has left the stock, not a place"),
    ],
)
def test_what_is_no_place_says_what_it_is(works: Works, place: str, said: str) -> None:
    with pytest.raises(NamesAnother) as raised:
        works.do("move", item="BAD", to_place=place)
    assert raised.value.message == said


def test_an_unknown_place_is_not_told_to_be_received(works: Works) -> None:
    with pytest.raises(UnknownCode) as raised:
        works.do("move", item="BAD", to_place="NOWHERE-AT-ALL")
    assert raised.value.hint == "name a place of the plan"


def test_a_traveller_is_asked_for_a_part_and_found_by_its_own_code(works: Works) -> None:
    with pytest.raises(NamesAnother, match="SHELF is a place of the plan"):
        issue_traveller(
            works.store, "SHELF", Decimal(1), code="", by="ANN", clock=lambda: minute(9)
        )
    with pytest.raises(NamesAnother, match="U1 is recorded as unit, not a traveller"):
        find_traveller(works.store, "U1")
    with pytest.raises(NotAnItem, match="SHELF is a place"):
        find_traveller(works.store, "SHELF")


@pytest.mark.parametrize("text", ["CASE-9", " case-9 ", "HTTPS://WORKS.EXAMPLE/I/CASE-9"])
def test_any_scan_of_a_case_leads_to_the_case(works: Works, text: str) -> None:
    with pytest.raises(NotAnItem) as raised:
        find(works.store, text)
    assert (raised.value.what, raised.value.record) == ("case", "CASE-9")
