"""Asked about all ancestors at once, an item is exposed to each as it is when asked one by one."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import lotkin.core.exposure.exposure_to_each as all_at_once
from lotkin.core.exposure.exposure import Exposed, expose
from lotkin.core.exposure.exposure_to_each import expose_to_each
from lotkin.core.exposure.reach import LinkColumns, NodeColumns, Reach
from lotkin.core.values.kinds import Mixing
from lotkin.core.values.quantities import MICRO
from tests.histories import History
from tests.small_works import Works

if TYPE_CHECKING:
    from collections.abc import Sequence

KINDS = ("powder-lot", "powder-blend", "machined-lot", "purchased-lot", "unit", "bench-setup",
         "heat", "machining-run")  # fmt: skip


def compare(reach: Reach, subjects: Sequence[int]) -> None:
    for subject in subjects:
        found = expose_to_each(reach, subject)
        for source, other in enumerate(found):
            mine = expose(reach, [source])[subject]
            assert mine[:3] == other[:3], (subject, source, mine, other)
            assert _nones(mine) == _nones(other), (subject, source, mine, other)
            assert mine[3:] == pytest.approx(other[3:], abs=1e-9), (subject, source)


def _nones(exposed: Exposed) -> list[bool]:
    return [value is None for value in exposed]


@st.composite
def genealogies(draw: st.DrawFn) -> Reach:
    """Any genealogy: every way of mixing, quantities known or not, parents outside."""
    size = draw(st.integers(2, 9))
    kinds = [draw(st.sampled_from(KINDS)) for _ in range(size)]
    units = [draw(st.sampled_from(("pcs", "kg"))) if k != "heat" else "" for k in kinds]
    amounts = [draw(st.sampled_from((None, MICRO, 10 * MICRO))) for _ in range(size)]
    rows: list[tuple[int, int, int, Mixing, int | None, int, str]] = []
    for child in range(1, size):
        for group in range(draw(st.integers(0, 2))):
            mixing = draw(st.sampled_from(tuple(Mixing)))
            single = mixing in (Mixing.EACH, Mixing.FORMER)
            parents = draw(
                st.lists(st.integers(-1 if not single else 0, child - 1), min_size=1,
                         max_size=1 if single else 3, unique=True)
            )  # fmt: skip
            per = draw(st.sampled_from((MICRO, 2 * MICRO, MICRO // 2)))
            for parent in parents:
                quantity = draw(st.sampled_from((None, MICRO, 3 * MICRO, 250_000)))
                unit = units[parent] if parent >= 0 else draw(st.sampled_from(("pcs", "kg")))
                rows.append((parent, child, group, mixing, quantity, per, unit))
    columns = [list(column) for column in zip(*rows, strict=True)] or [[] for _ in range(7)]
    above, below, groups, mixings, quantities, pers, parent_units = columns
    codes = [f"I{i}" for i in range(size)]
    nodes = NodeColumns(codes, kinds, [""] * size, amounts, units, [""] * size)
    links = LinkColumns(
        above, below, [1] * len(rows), groups, mixings, quantities, pers, parent_units
    )  # fmt: skip
    return Reach(nodes, links, [0])


@settings(max_examples=300)
@given(genealogies())
def test_it_is_the_same_for_any_genealogy(reach: Reach) -> None:
    compare(reach, range(len(reach)))


@settings(max_examples=25)
@given(st.data())
def test_it_is_the_same_for_what_a_works_records(data: st.DataObject) -> None:
    history = History.drawn(data.draw)
    codes = history.several(tuple(history.items), most=3) if history.items else []
    for code in codes:
        with history.works.store.reading() as view:
            reach = view.reach([code], "up")
        compare(reach, reach.starts)


def test_it_is_the_same_whatever_is_kept_at_a_time(monkeypatch: pytest.MonkeyPatch) -> None:
    works = Works()
    chance = random.Random(4)
    lots = ["L0"]
    works.receive("L0", 1000)
    for number in range(1, 30):
        works.receive(f"R{number}", 1000)
        taken = {chance.choice(lots): 5, f"R{number}": 20}
        works.pool(f"L{number}", taken)
        lots.append(f"L{number}")
    with works.store.reading() as view:
        reach = view.reach(["L29"], "up")
    whole = expose_to_each(reach, reach.starts[0])
    compare(reach, reach.starts)
    monkeypatch.setattr(all_at_once, "AT_ONCE", 5 * len(reach))
    assert expose_to_each(reach, reach.starts[0]) == whole
