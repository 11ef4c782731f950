"""Inputs become outputs in a run: what is refused, and how inputs are divided."""

from __future__ import annotations

import pytest

from lotkin.core.errors import BadQuantity, RuleBroken
from lotkin.uses.evidence.rebuild import rebuild
from tests.small_works import PLAN, Works


def test_no_more_is_lost_of_an_input_than_was_taken_of_it() -> None:
    works = Works()
    works.bar("BAR-1", 10)

    with pytest.raises(BadQuantity, match=r"0\.5 lost is more than was taken"):
        works.make({"TIPS": 5}, {"item": "BAR-1", "quantity": "0.4", "loss": "0.5"})


def test_an_input_may_be_lost_altogether() -> None:
    works = Works()
    works.bar("BAR-1", 10)
    works.make({"TIPS": 5}, {"item": "BAR-1", "quantity": "0.5", "loss": "0.5"})

    assert works.lines("BAR-1") == {"SHELF": 9.5, "process loss": 0.5}
    assert works.used("BAR-1").keys() == {"TIPS"}


BAR = 'name = "Bar", revision = "A", kind = "bar-lot"'
MATERIALS = PLAN.replace(
    "part = [",
    f"""part = [
  {{code = "STEEL-BAR", {BAR}, unit = "m", material = "11SMnPb30"}},
  {{code = "ALU-BAR", {BAR}, unit = "m", material = "en aw-6082"}},
  {{code = "BILLET", {BAR}, unit = "pcs", material = "EN AW-6082"}},""",
)


def test_billets_of_one_alloy_are_not_made_of_a_bar_of_another() -> None:
    works = Works(plan=MATERIALS)
    works.bar("STEEL", 10, part="STEEL-BAR")
    works.bar("ALU", 10, part="ALU-BAR")
    billets = {"quantity": 20, "part": "BILLET", "item_kind": "bar-lot"}
    with pytest.raises(RuleBroken, match="is BILLET of EN AW-6082, but STEEL is 11SMnPb30"):
        works.make({"B1": billets}, {"STEEL": 1})

    done = works.make({"B2": billets}, {"STEEL": 1}, reported=True)
    assert [breach.rule for breach in done.breaches] == ["wrong-material"]
    assert works.make({"B3": billets}, {"ALU": 1}).breaches == ()


def test_a_lot_that_is_made_on_hold_is_held_until_it_is_inspected() -> None:
    works = Works()
    works.receive("S")
    works.make({"LOT": {"quantity": 5, "hold": "burr"}, "FREE": 5}, {"S": 10})
    with works.store.reading() as view:
        assert (view.hold("LOT"), view.hold("FREE")) == ("burr", None)
    works.inspect("LOT", "LOOK")
    with works.store.reading() as view:
        assert view.hold("LOT") is None
    assert rebuild(works.store, check_only=True).difference == ""
