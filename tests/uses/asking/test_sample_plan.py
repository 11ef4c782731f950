"""A sample of a lot: counted on what can be checked."""

from __future__ import annotations

from fractions import Fraction

import pytest

from lotkin.core.errors import BadQuantity, UnknownCode
from lotkin.uses.asking.sample_plan import Checked, Wanted, plan_sample
from tests.small_works import PLAN, Works


@pytest.fixture
def works() -> Works:
    works = Works(plan=PLAN)
    works.bar("BAR-1", 10)
    works.make({"TIP-1": 50}, {"BAR-1": 5})
    works.receive("SCREWS", 100)
    works.ship("SHIP-1", {"SCREWS": 40})
    return works


def test_the_sample_is_counted_on_what_is_in_the_house(works: Works) -> None:
    answer = plan_sample(works.store, "SCREWS", Wanted(bad_pieces=3))

    assert (answer.on_hand, answer.places) == (60, {"SHELF": 60})
    assert answer.plan.lot == 60


def test_pieces_at_the_anodiser_cannot_be_checked(works: Works) -> None:
    works.send("ANO-1", {"TIP-1": 30})

    assert plan_sample(works.store, "TIP-1", Wanted()).on_hand == 20


def test_what_was_checked_shows_how_many_are_bad_at_most(works: Works) -> None:
    answer = plan_sample(works.store, "TIP-1", Wanted(bad_share=Fraction(1, 10)), Checked(22))

    assert answer.plan.sample == 22
    assert answer.endless == 29  # published: 95 % confidence, 90 % reliability
    assert answer.shown is not None
    assert answer.shown.most_bad == 4
    assert 0.12 < answer.shown.share_at_most < 0.13


@pytest.mark.parametrize(
    ("wanted", "checked"),
    [
        (Wanted(bad_pieces=51), None),
        (Wanted(allowed=1), None),
        (Wanted(), Checked(51)),
        (Wanted(), Checked(5, 6)),
    ],
)
def test_what_cannot_be_is_refused(works: Works, wanted: Wanted, checked: Checked | None) -> None:
    with pytest.raises(BadQuantity, match="TIP-1"):
        plan_sample(works.store, "TIP-1", wanted, checked)


def test_bar_has_no_pieces_and_an_empty_lot_none_either(works: Works) -> None:
    with pytest.raises(BadQuantity, match="whole pieces"):
        plan_sample(works.store, "BAR-1", Wanted())
    works.make({"BOXED": 1}, {"item": "SCREWS", "quantity": 60, "place": "SHELF"})
    with pytest.raises(BadQuantity, match="SCREWS: quantity 0 pcs on hand"):
        plan_sample(works.store, "SCREWS", Wanted())
    with pytest.raises(UnknownCode):
        plan_sample(works.store, "NOTHING", Wanted())
