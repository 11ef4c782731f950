"""The picture of a genealogy: how it is drawn together, and that nothing overlaps."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

import pytest

from lotkin.uses.asking.contain import contain
from lotkin_labels.paper.marks import Words
from lotkin_labels.reports.form.flow import LANDSCAPE
from lotkin_labels.reports.genealogy.genealogy import genealogy_of
from lotkin_labels.reports.genealogy.layout import lay_out
from lotkin_labels.reports.genealogy.picture import genealogy_marks
from tests.labels.reports.pump_works import pumps
from tests.small_works import PLAN, Works

if TYPE_CHECKING:
    from lotkin_labels.reports.genealogy.genealogy import Genealogy


def drawn(works: Works, *codes: str) -> Genealogy:
    return genealogy_of(contain(works.store, codes).answer)


def test_a_few_items_have_a_box_each() -> None:
    found = drawn(pumps(3), "RUN-1")

    assert not found.is_collapsed
    assert {box.code for box in found.boxes} == {
        "RUN-1", "TIP-1", "B1:5", "PUMP-0001", "PUMP-0002", "PUMP-0003",
    }  # fmt: skip
    assert [box.layer for box in found.boxes if box.code == "RUN-1"] == [0]


def test_many_that_are_alike_share_a_box_that_counts_them() -> None:
    found = drawn(pumps(60, shipped=20), "RUN-1")

    assert found.is_collapsed
    counts = {box.kind: box.count for box in found.boxes}
    assert counts["unit"] == 60
    assert sum(box.count for box in found.boxes) == 60 + 5


def test_edges_always_lead_to_the_right() -> None:
    found = drawn(pumps(60, shipped=20), "H48")

    for parent, child in found.edges:
        assert found.boxes[parent].layer < found.boxes[child].layer


def chain(length: int) -> Works:
    """Top up a hopper again and again."""
    works = Works(plan=PLAN)
    works.powder("POWDER-0", 10)
    last = "POWDER-0"
    for number in range(1, length + 1):
        works.powder(f"POWDER-{number}", 1)
        works.blend(f"BLEND-{number}", {last: None, f"POWDER-{number}": None})
        last = f"BLEND-{number}"
    return works


@pytest.mark.parametrize("length", [3, 12, 60])
def test_a_long_chain_fits_the_sheet(length: int) -> None:
    found = drawn(chain(length), "POWDER-0")

    assert found.layers <= 10
    assert sum(box.count for box in found.boxes) == length + 1


@pytest.mark.parametrize(("count", "shipped"), [(0, 0), (9, 4), (300, 100)])
def test_nothing_overlaps_and_nothing_leaves_the_sheet(count: int, shipped: int) -> None:
    found = drawn(pumps(count, shipped=shipped), "H48")
    layout = lay_out(found, 150)
    by_layer: dict[int, list[tuple[float, float]]] = {}
    for spot in layout.spots:
        edge = (spot.y_mm - spot.height_mm / 2, spot.y_mm + spot.height_mm / 2)
        by_layer.setdefault(spot.layer, []).append(edge)

    for edges in by_layer.values():
        for one, other in combinations(sorted(edges), 2):
            assert one[1] <= other[0] + 1e-6
        assert min(edges)[0] >= -1e-6
        assert max(bottom for _, bottom in edges) <= 150 + 1e-6
    for mark in genealogy_marks(found):
        assert mark.area.right <= LANDSCAPE.body_width_mm + 1
        assert mark.area.bottom <= LANDSCAPE.body_height_mm + 1


def test_what_was_swapped_out_says_so() -> None:
    works = pumps(1)
    works.make({"TIP-2": 5}, {"BAR-A": 1}, run="RUN-2")
    works.swap(
        "PUMP-0001",
        [{"item": "TIP-1", "position": "P1", "end": "scrap"}],
        {"item": "TIP-2", "position": "P1", "quantity": 1},
    )
    found = drawn(works, "TIP-1")

    assert {box.code: box.sureness for box in found.boxes}["PUMP-0001/2"] == "removed"
    words = [mark.text for mark in genealogy_marks(found) if isinstance(mark, Words)]
    assert "no longer" in words
