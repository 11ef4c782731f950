"""Telling other programs of cases: what is told, to whom, and when it is tried again."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import pytest

from lotkin.core.cases.letters import CASE_OPENED, NOTICE_KINDS, SHIPPED_MEMBER_FOUND
from lotkin.uses.cases.letters import find_notices, hook_states, send_due
from tests.small_works import PLAN, Works, minute

if TYPE_CHECKING:
    from collections.abc import Mapping

    from lotkin.core.cases.letters import Attempt

ALL = {"desk": NOTICE_KINDS}
DAY = 24 * 60


@dataclass
class Receiver:
    """Takes notices, or does not."""

    here: bool = True

    def __post_init__(self) -> None:
        self.got: list[tuple[str, str, Any]] = []

    def send(self, attempt: Attempt) -> Receiver:
        if self.here:
            body = json.loads(attempt.notice.body)
            self.got.append((attempt.hook, attempt.notice.id, body))
        return self

    @property
    def arrived(self) -> bool:
        return self.here

    @property
    def answer(self) -> str:
        return "status 204" if self.here else "status 503"


@pytest.fixture
def works() -> Works:
    """A bad lot of which one unit went to the clinic and one is on the shelf."""
    works = Works(plan=PLAN)
    works.receive("BAD", 100, part="TIP", item_kind="machined-lot")
    works.receive("SCREWS", 500)
    works.mount({"P1": "BAD", "P2": "SCREWS"})
    for unit in ("U1", "U2"):
        works.build(unit)
        works.test(unit)
    works.ship("SHP-1", {"U1": 1})
    works.do("open-case", case="C-1", subjects=["BAD"], reason="cracks")
    return works


def tell(
    works: Works, receiver: Receiver, at: int, wishes: Mapping[str, tuple[str, ...]] = ALL
) -> int:
    find_notices(works.store, wishes, lambda: minute(at))
    return send_due(works.store, list(wishes), receiver.send, lambda: minute(at))


def test_a_case_that_was_opened_is_told_once_with_what_customers_have(works: Works) -> None:
    receiver = Receiver()
    tell(works, receiver, 100)
    tell(works, receiver, 101)

    opened, shipped = sorted((body for _, _, body in receiver.got), key=lambda b: str(b["type"]))
    assert opened["type"] == CASE_OPENED
    assert opened["data"]["case"] == "C-1"
    assert opened["data"]["subjects"] == ["BAD"]
    assert shipped["type"] == SHIPPED_MEMBER_FOUND
    assert shipped["data"]["customers"] == [
        {
            "customer": "CLINIC",
            "count": 1,
            "items": [{"item": "U1", "kind": "unit", "part": "PUMP", "certain": True}],
        }
    ]


def test_a_member_that_is_found_at_a_customer_later_is_told_alone(works: Works) -> None:
    receiver = Receiver()
    tell(works, receiver, 100)
    receiver.got.clear()
    works.do(
        "ship", shipment="SHP-2", contents=[{"item": "U2"}], customer="HOSPITAL", reported=True
    )
    tell(works, receiver, 101)

    ((_, _, body),) = receiver.got
    (customer,) = body["data"]["customers"]
    assert (customer["customer"], customer["items"][0]["item"]) == ("HOSPITAL", "U2")


def test_a_member_cleared_by_a_decision_is_not_told(works: Works) -> None:
    works.do(
        "decide", case="C-1", members=[{"item": "U1"}], decision="use-as-is", reason="looked at"
    )
    receiver = Receiver()
    tell(works, receiver, 100)
    assert [body["type"] for _, _, body in receiver.got] == [CASE_OPENED]


def test_each_hook_is_told_what_it_wishes(works: Works) -> None:
    receiver = Receiver()
    tell(works, receiver, 100, {"desk": (CASE_OPENED,), "recall": (SHIPPED_MEMBER_FOUND,)})
    told = sorted((hook, body["type"]) for hook, _, body in receiver.got)
    assert told == [("desk", CASE_OPENED), ("recall", SHIPPED_MEMBER_FOUND)]


def test_a_receiver_that_was_away_is_told_when_it_is_back_under_the_same_id(works: Works) -> None:
    away, back = Receiver(here=False), Receiver()
    assert tell(works, away, 100) == 2
    assert tell(works, away, 100) == 0, "not again at once"
    assert tell(works, away, 101) == 2
    (state,) = hook_states(works.store)
    assert (state.told, state.waiting, state.given_up) == (0, 2, 0)
    assert state.last_answer == "status 503"

    assert tell(works, back, 103) == 2
    assert tell(works, back, 100 + DAY) == 0
    (state,) = hook_states(works.store)
    assert (state.told, state.waiting, state.given_up) == (2, 0, 0)


def test_a_receiver_that_never_comes_back_is_given_up_after_a_week(works: Works) -> None:
    away = Receiver(here=False)
    for hour in range(0, 10 * 24, 3):
        tell(works, away, 100 + 60 * hour)
    (state,) = hook_states(works.store)
    assert (state.told, state.waiting, state.given_up) == (0, 0, 2)


def test_nothing_is_told_of_an_empty_works() -> None:
    receiver = Receiver()
    assert tell(Works(), receiver, 1) == 0
