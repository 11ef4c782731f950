"""Bars give so many pieces and no more; what is beyond them came of a bar that nobody recorded."""

from __future__ import annotations

from decimal import Decimal
from uuid import UUID

import pytest

from lotkin.core.errors import RuleBroken
from lotkin.core.goods_in.plausibility import Bars
from lotkin.core.plan import parse_plan
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.recording.delivery import Delivery
from lotkin.uses.recording.delivery_findings import findings_of
from lotkin_labels.shop_floor.from_plan import make_traveller
from tests.small_works import PLAN, Works

BAR = (
    "bar = {length_mm = 3000, part_mm = 20, cutoff_mm = 3, facing_mm = 1, remnant_mm = 120}, "
    'step = [{code = "10", name = "Turn", run = "machining-run", at = "FLOOR", inputs = ["BAR"]}]'
)
CUT = PLAN.replace(
    '{code = "TIP", name = "Tip", revision = "A", kind = "machined-lot", unit = "pcs"}',
    f'{{code = "TIP", name = "Tip", revision = "A", kind = "machined-lot", unit = "pcs", {BAR}}}',
)
OF_A_BAR = (3000 - 120) // (20 + 3 + 1)
"""Pieces of a full bar: 120."""


def works_with_bars(metres: object = 30) -> Works:
    """Give a works that has received bars of two heats."""
    works = Works(plan=CUT)
    works.bar("BAR-1", metres, heat="H1")
    works.bar("BAR-2", metres, heat="H2")
    return works


def turned(works: Works, pieces: int, metres: int | str, **more: int) -> None:
    """Turn pieces from a bar."""
    inputs = [{"item": "BAR-1", "quantity": metres}]
    output = {"code": "TIPS", "part": "TIP", "quantity": pieces, "place": "FLOOR"}
    works.do("make", inputs=inputs, outputs=[output], step="10", **more)


@pytest.mark.parametrize(
    ("pieces", "metres", "more"),
    [
        (OF_A_BAR, 3, {}),
        (2 * OF_A_BAR, 6, {}),
        (OF_A_BAR - 5, 3, {"scrap": 3, "samples": 2}),
        (62, "1.5", {}),  # half a bar: its remnant is in the half that was left
        (OF_A_BAR, "2.95", {}),  # never more than a full bar gives
    ],
)
def test_what_the_bars_can_give_is_recorded(
    pieces: int, metres: int | str, more: dict[str, int]
) -> None:
    works = works_with_bars()
    turned(works, pieces, metres, **more)
    with works.store.reading() as view:
        assert view.entry(works.log[-1].seq).breaches == ()
        assert view.hold("TIPS") is None


@pytest.mark.parametrize(
    ("pieces", "metres", "more"),
    [
        (OF_A_BAR + 1, 3, {}),
        (OF_A_BAR, 3, {"scrap": 1}),
        (OF_A_BAR, 3, {"samples": 1}),
        (63, "1.5", {}),
        (OF_A_BAR + 1, "2.95", {}),
    ],
)
def test_more_pieces_than_the_bars_give_are_refused_and_when_reported_held(
    pieces: int, metres: int | str, more: dict[str, int]
) -> None:
    works = works_with_bars()
    with pytest.raises(RuleBroken, match=r"gives \d+ at most") as refused:
        turned(works, pieces, metres, **more)
    assert refused.value.rule == "more-than-bars-give"
    turned(works, pieces, metres, reported=True, **more)
    with works.store.reading() as view:
        (breach,) = view.entry(works.log[-1].seq).breaches
        assert breach.rule == "more-than-bars-give"
        assert "other bars may be among them" in (view.hold("TIPS") or "")


def test_lots_kept_apart_are_each_held_against_their_own_bars() -> None:
    works = works_with_bars()
    apart = {
        "TIPS-1": {"quantity": OF_A_BAR, "of": ["BAR-1"]},
        "TIPS-2": {"quantity": OF_A_BAR + 1, "of": ["BAR-2"]},
    }
    with pytest.raises(RuleBroken, match=r"TIPS-2: .* BAR-2 gives 120 at most"):
        works.make(apart, {"BAR-1": 3, "BAR-2": 3}, step="10")
    together = {"TIPS": 2 * OF_A_BAR}
    works.make(together, {"BAR-1": 3, "BAR-2": 3}, step="10")


def test_a_bar_lot_kept_by_weight_is_not_reckoned_in_pieces() -> None:
    in_kg = 'code = "BAR", name = "Bar", revision = "A", kind = "bar-lot", unit = "kg"'
    plan = CUT.replace(in_kg.replace('"kg"', '"m"'), in_kg)
    works = Works(plan=plan)
    works.bar("BAR-1", 30, heat="H1", unit="kg")
    works.make({"TIPS": 500}, {"BAR-1": 3}, step="10")


def looked_at(delivery: Delivery) -> dict[str, str]:
    """Give what is found of a delivery by the name of the finding."""
    plan, _ = parse_plan(CUT, "plan.toml")
    works = Works(plan=CUT)
    with works.store.reading() as view:
        return {each.rule: each.message for each in findings_of(view, plan, delivery, 0)}


def test_goods_in_says_how_many_pieces_a_delivery_gives() -> None:
    found = looked_at(
        Delivery(id=UUID(int=1), part="BAR", by="ANN", place="SHELF", quantity=Decimal(30))
    )
    assert found["bar-yield"] == "BAR: 1200 TIP at most, 120 pcs at most from a bar of 3000 mm"


def test_goods_in_reckons_with_the_length_that_came_and_asks_about_it() -> None:
    bars = Bars(count=10, length_mm=Decimal(4000))
    found = looked_at(Delivery(id=UUID(int=1), part="BAR", by="ANN", place="SHELF", bars=bars))
    assert found["other-length"] == (
        "BAR: bars of 4000 mm came, the plan cuts TIP from bars of 3000 mm"
    )
    # (4000 - 120) // 24 of each of the ten
    assert found["bar-yield"] == "BAR: 1610 TIP at most, 161 pcs at most from a bar of 4000 mm"


def test_longer_bars_give_more_and_a_split_bar_lot_stays_as_long() -> None:
    works = Works(plan=CUT)
    works.bar("BAR-1", 40, heat="H1", delivered={"bars": 10, "bar_length_mm": 4000})
    turned(works, 161, 4)
    works.split("BAR-1", {"BAR-1B": 8})
    inputs = [{"item": "BAR-1B", "quantity": 8}]
    output = {"code": "MORE", "part": "TIP", "quantity": 323, "place": "FLOOR"}
    with pytest.raises(RuleBroken, match=r"gives 322 at most .161 pcs at most from a bar of 4000"):
        works.do("make", inputs=inputs, outputs=[output], step="10")
    works.do("make", inputs=inputs, outputs=[output | {"quantity": 322}], step="10")
    assert rebuild(works.store, check_only=True).difference == ""


def test_the_traveller_says_how_many_bars_the_order_needs() -> None:
    plan, problems = parse_plan(CUT, "plan.toml")
    assert plan is not None, problems
    paper = make_traveller("T-1", "TIP", plan, quantity=121_000_000)
    assert paper.bars == "120 pcs at most from a bar of 3000 mm; 2 full bars needed"
    assert make_traveller("T-1", "TIP", plan).bars == "120 pcs at most from a bar of 3000 mm"
    assert make_traveller("T-1", "PUMP", plan).bars == ""
