"""How far lots spread: the worked example, mixings by hand, and containment as the second opinion.

Worked example: `tests/outside/lot_dispersion.json` (measures of Dupuy and others 2005, used by
Dabbene and Gay 2011).
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import lotkin.core.exposure.dispersion as module
from lotkin.core.exposure.dispersion import Dispersion, disperse
from lotkin.core.genealogy.items import Item, Link
from lotkin.core.values.kinds import Mixing
from lotkin.core.values.quantities import MICRO
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.dispersion import dispersion
from tests.demo_stores import demo_store

EXAMPLE = json.loads(
    (Path(__file__).parents[2] / "outside" / "lot_dispersion.json").read_text(encoding="utf-8")
)["example"]

KINDS = {"H": "heat", "B": "bar-lot", "P": "powder-lot", "C": "machined-lot", "U": "unit"}


def items(*codes: str) -> list[Item]:
    """Make items whose kind is told by the first letter; M is a mixture, L a bought lot."""
    kinds = {**KINDS, "M": "mixed-lot", "L": "purchased-lot"}
    return [Item(code, kinds[code[0]], "", 10 * MICRO, "pcs") for code in codes]


def into(child: str, **taken: int) -> list[Link]:
    """Mix lots: how many pieces of each."""
    return [
        Link(parent, child, 1, Mixing.ONE_OF, quantity * MICRO)
        for parent, quantity in taken.items()
    ]


def built(parent: str, *units: str) -> list[Link]:
    return [Link(parent, unit, number) for number, unit in enumerate(units, start=1)]


@pytest.fixture
def example() -> Dispersion:
    codes = sorted({code for parent, child, _ in EXAMPLE["edges"] for code in (parent, child)})
    links = [
        Link(parent, child, number, per=per * MICRO)
        for number, (parent, child, per) in enumerate(EXAMPLE["edges"], start=1)
    ]
    return disperse(items(*codes), links)


def test_the_worked_example_comes_out(example: Dispersion) -> None:
    assert sorted(example.raw) == EXAMPLE["raw"]
    assert sorted(example.units) == EXAMPLE["finished"]
    assert {code: example.units_of(code) for code in example.raw} == EXAMPLE["downward"]
    assert {code: example.raw_lots_of(code) for code in example.units} == EXAMPLE["upward"]
    assert example.batch_dispersion == EXAMPLE["batch_dispersion"] == 6
    assert example.worst_recall == EXAMPLE["worst_case_units"] == 3
    assert example.average_recall == EXAMPLE["average_units"] == 2.0
    assert (example.worst_upward, example.average_upward) == (3, 2.0)


def test_units_are_followed_in_blocks(example: Dispersion, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "BLOCK", 2)
    links = built("L1", "U1", "U2", "U3", "U4", "U5") + built("L2", "U5")
    found = disperse(items("L1", "L2", "U1", "U2", "U3", "U4", "U5"), links)

    assert [found.units_of("L1"), found.units_of("L2"), found.raw_lots_of("U5")] == [5, 1, 2]


def test_mixing_two_lots_costs_what_each_would_not_have_reached() -> None:
    # 3 of 4 pieces are of L1: apart, 3 of 4 units would have been of it and 1 of L2;
    # mixed, both recalls take 4: 1 more and 3 more
    links = into("M1", L1=3, L2=1) + built("M1", "U1", "U2", "U3", "U4")
    (mixed,) = disperse(items("L1", "L2", "M1", "U1", "U2", "U3", "U4"), links).mixed

    assert (mixed.item.code, mixed.units, mixed.extra) == ("M1", 4, 4.0)
    assert dict(mixed.parents) == {"L1": 0.75, "L2": 0.25}


def test_units_reached_on_another_way_are_no_cost_of_the_mixing() -> None:
    # L1 went into all four units anyhow: only the recall of L2 got larger, by 3 of 4 on average
    units = ("U1", "U2", "U3", "U4")
    links = into("M1", L1=3, L2=1) + built("M1", *units) + built("L1", *units)
    (mixed,) = disperse(items("L1", "L2", "M1", *units), links).mixed

    assert mixed.extra == 3.0


def test_shares_that_are_not_known_count_as_equal() -> None:
    links = [Link("L1", "M1", 1, Mixing.BLEND), Link("L2", "M1", 1, Mixing.BLEND)]
    (mixed,) = disperse(items("L1", "L2", "M1", "U1"), links + built("M1", "U1")).mixed

    assert mixed.parents == (("L1", None), ("L2", None))
    assert mixed.extra == 1.0


def test_the_most_costly_mixing_comes_first() -> None:
    links = [
        *into("M1", L1=1, L2=1),
        *into("M2", L3=1, L4=1),
        *built("M1", "U1"),
        *built("M2", "U2", "U3"),
    ]
    found = disperse(items("L1", "L2", "L3", "L4", "M1", "M2", "U1", "U2", "U3"), links)

    assert [(one.item.code, one.extra) for one in found.mixed] == [("M2", 2.0), ("M1", 1.0)]


def test_what_a_repaired_unit_has_no_longer_does_not_count() -> None:
    repaired = Link("U1", "U2", 1, Mixing.FORMER)
    links = [*built("L1", "U1"), *built("L2", "U1", "U2"), repaired]
    found = disperse(items("L1", "L2", "U1", "U2"), links)

    assert found.units == ["U2"]
    assert [found.units_of("L1"), found.units_of("L2")] == [0, 1]


def test_nothing_recorded_disperses_nowhere() -> None:
    found = disperse([], [])

    assert (found.worst_recall, found.average_recall, found.average_upward) == (0, 0.0, 0.0)
    assert found.batch_dispersion == found.worst_upward == 0


def test_in_the_demo_works_a_recall_takes_what_containment_finds() -> None:
    store, works = demo_store()
    found = dispersion(store)
    whole = found.whole

    for item in found.lots[::11]:
        assert whole.units_of(item.code) == contain(store, [item.code]).units, item.code
    assert len(whole.units) == len(works.units)
    # pairs counted from above and from below
    assert sum(map(whole.raw_lots_of, whole.units)) == whole.batch_dispersion
    narrowed = dispersion(store, works.topped_up_lot)
    assert narrowed.mixed[0].item.code in {one.item.code for one in found.mixed}
    assert len(narrowed.lots) < len(found.lots)
    assert works.topped_up_lot in {item.code for item in narrowed.lots}
