"""What to find out next: mixed lots, setups of a straddling unit, and what no answer frees."""

from __future__ import annotations

import pytest

from lotkin.core.values.quantities import MICRO
from lotkin.uses.asking.next_question import next_question
from tests.small_works import PLAN, Works


@pytest.fixture
def works() -> Works:
    """Pool three lots of screws: 10 of A, 30 of B, 60 of C."""
    works = Works(plan=PLAN)
    for code, quantity in (("A", 10), ("B", 30), ("C", 60)):
        works.receive(code, quantity)
    works.pool("MIX", ["A", "B", "C"])
    return works


def test_sorting_a_mixed_lot_frees_the_share_of_the_sound_lots(works: Works) -> None:
    (question,) = next_question(works.store, ["A"]).questions

    assert question.text == "Which pieces of MIX are of which lot?"
    assert question.candidates == ("A", "B", "C")
    assert question.suspects == ("A",)
    assert question.asked.hanging == 100 * MICRO
    assert question.asked.chance_free == pytest.approx(0.9)
    assert question.asked.expected == pytest.approx(90 * MICRO)


def test_the_question_that_frees_most_comes_first(works: Works) -> None:
    works.receive("D", 40)
    works.split("D", {"D-1": 20})
    works.receive("E", 20)
    works.pool("MIX-2", ["D-1", "E"])

    first, second = next_question(works.store, ["A", "D"]).questions

    assert (first.code, second.code) == ("MIX", "MIX-2")
    assert second.asked.expected == pytest.approx(20 * MICRO)


def test_what_is_suspect_for_another_reason_too_is_not_freed(works: Works) -> None:
    works.receive("NUTS", 5)
    works.build("PUMP-1", None, place="FLOOR", inputs={"MIX": 1}, reported=True)
    works.build("PUMP-2", None, place="FLOOR", inputs={"MIX": 1, "NUTS": 1}, reported=True)

    (question,) = next_question(works.store, ["A", "NUTS"]).questions

    # 98 are left of the mixed lot, and the pump without a suspect nut hangs on it
    assert question.asked.hanging == 99 * MICRO


def test_scrapped_pieces_are_not_worth_a_question(works: Works) -> None:
    works.do("scrap", item="MIX", quantity=100, reason="unsorted")

    assert next_question(works.store, ["A"]).questions == ()


def test_a_unit_at_the_change_of_lots_is_asked_about_its_setup() -> None:
    works = Works(plan=PLAN)
    works.receive("NUTS", 50)
    for code in ("TIP-A", "TIP-B"):
        works.make({code: 10})
    works.mount({"P1": "TIP-A", "P2": "NUTS"}, at=10)
    works.mount({"P1": "TIP-B"}, at=20)
    works.build("U1", started=15, at=25)

    (question,) = next_question(works.store, ["TIP-A"]).questions

    assert question.text == "Which of these is in U1?"
    assert len(question.candidates) == 2
    assert len(question.suspects) == 1
    # which lot it was is not recorded: both are taken as equally likely
    assert question.asked.is_assumed
    assert question.asked.expected == MICRO / 2
    # both setups had the nuts: the answer would free nothing of these
    assert next_question(works.store, ["NUTS"]).questions == ()
