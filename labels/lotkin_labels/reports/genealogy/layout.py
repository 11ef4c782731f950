"""Where the boxes of a genealogy stand: columns by age, ordered so that lines cross little."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin_labels.reports.genealogy.genealogy import Genealogy

__all__ = ["Layout", "Spot", "lay_out"]

BOX_MM = 14.0
LANE_MM = 3.0
GAP_MM = 4.0
ROUNDS = 6


@dataclass(slots=True)
class Spot:
    """Where a box stands, or a line that passes a column.

    Attributes:
        box: Number of the box; None for a line that passes.
        y_mm: Its middle.
    """

    layer: int
    box: int | None
    height_mm: float
    y_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Layout:
    """Spots, and the steps between neighbouring columns as pairs of their numbers."""

    spots: tuple[Spot, ...]
    steps: tuple[tuple[int, int], ...]


def lay_out(drawn: Genealogy, height_mm: float) -> Layout:
    """Place the boxes within a height; they shrink if there are very many in one column."""
    layout = _with_lanes(drawn)
    columns: list[list[int]] = [[] for _ in range(drawn.layers)]
    for at, spot in enumerate(layout.spots):
        columns[spot.layer].append(at)
    near: list[list[int]] = [[] for _ in layout.spots]
    for one, other in layout.steps:
        near[one].append(other)
        near[other].append(one)
    for column in columns:
        _shrink(layout.spots, column, height_mm)
        _spread(layout.spots, column, height_mm)
    for number in range(ROUNDS):
        for column in columns if number % 2 == 0 else reversed(columns):
            middles = {at: _middle(layout.spots, at, near[at]) for at in column}
            column.sort(key=middles.__getitem__)
            _spread(layout.spots, column, height_mm)
    return layout


def _with_lanes(drawn: Genealogy) -> Layout:
    """Give each edge a lane in every column that it passes; edges from one box share it."""
    spots = [Spot(box.layer, at, BOX_MM) for at, box in enumerate(drawn.boxes)]
    steps: set[tuple[int, int]] = set()
    lanes: dict[tuple[int, int], int] = {}
    for parent, child in drawn.edges:
        at = parent
        for layer in range(drawn.boxes[parent].layer + 1, drawn.boxes[child].layer):
            if (parent, layer) not in lanes:
                lanes[parent, layer] = len(spots)
                spots.append(Spot(layer, None, LANE_MM))
            steps.add((at, lanes[parent, layer]))
            at = lanes[parent, layer]
        steps.add((at, child))
    return Layout(tuple(spots), tuple(sorted(steps)))


def _middle(spots: Sequence[Spot], at: int, near: Sequence[int]) -> float:
    if not near:
        return spots[at].y_mm
    return sum(spots[other].y_mm for other in near) / len(near)


def _shrink(spots: Sequence[Spot], column: Sequence[int], height_mm: float) -> None:
    taken = sum(spots[at].height_mm + GAP_MM for at in column)
    for at in column:
        spots[at].height_mm *= min(1.0, height_mm / taken)


def _spread(spots: Sequence[Spot], column: Sequence[int], height_mm: float) -> None:
    """Put the spots of a column under each other, in the middle of the height."""
    taken = sum(spots[at].height_mm for at in column)
    gap = min(GAP_MM, (height_mm - taken) / max(len(column), 1))
    y_mm = (height_mm - taken - gap * (len(column) - 1)) / 2
    for at in column:
        spots[at].y_mm = y_mm + spots[at].height_mm / 2
        y_mm += spots[at].height_mm + gap
