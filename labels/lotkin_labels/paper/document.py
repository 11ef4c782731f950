"""Documents on A4: blocks that flow over pages, under a head and above a foot that repeat."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin_labels.paper.fonts import MM_PER_POINT, Face, width_mm
from lotkin_labels.paper.lettering import fit
from lotkin_labels.paper.marks import Page, Rule, Words, moved

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from lotkin_labels.paper.column import Column
    from lotkin_labels.paper.marks import Mark

__all__ = ["BODY_WIDTH_MM", "LEFT_MM", "Block", "Paper", "block_of"]

WIDTH_MM, HEIGHT_MM = 210.0, 297.0
"""A4. Source: ISO 216."""

LEFT_MM = 15.0
TOP_MM = 12.0
FOOT_TOP_MM = 283.0
BODY_BOTTOM_MM = 280.0
BODY_WIDTH_MM = WIDTH_MM - 2 * LEFT_MM
FOOT_PT = 7.0


@dataclass(frozen=True, slots=True)
class Block:
    """Something that stays together on a page; its marks are measured from its own top left.

    Attributes:
        height_mm: Room that it takes, the gap to the next one included.
        is_new_group: Whether it begins something that is moved to the next page as a whole if it
            does not fit any more on this one but would fit on an empty one.
    """

    height_mm: float
    marks: tuple[Mark, ...]
    is_new_group: bool = True


def block_of(column: Column, *, is_new_group: bool = True) -> Block:
    """Make a block of a column that begins at a height of 0."""
    return Block(column.y_mm, tuple(column.marks), is_new_group)


@dataclass(frozen=True, slots=True)
class Paper:
    """A document on A4.

    Attributes:
        head: Stands on top of every page.
        note: Stands in the foot of every page, before the page number.
    """

    head: Block
    note: str

    def pages(self, blocks: Sequence[Block]) -> list[Page]:
        """Lay out blocks on as many pages as they take, at least one, each with its number.

        A block must not be higher than a page's body.
        """
        bodies = self._fill(blocks)
        return [
            Page(
                WIDTH_MM,
                HEIGHT_MM,
                (
                    *moved(self.head.marks, LEFT_MM, TOP_MM),
                    *body,
                    *self._foot(f"{number} of {len(bodies)}"),
                ),
            )
            for number, body in enumerate(bodies, start=1)
        ]

    @property
    def body_height_mm(self) -> float:
        """Height that blocks may fill on one page."""
        return BODY_BOTTOM_MM - TOP_MM - self.head.height_mm

    def _fill(self, blocks: Sequence[Block]) -> list[list[Mark]]:
        bodies: list[list[Mark]] = [[]]
        top = TOP_MM + self.head.height_mm
        y_mm = top
        for group in _groups(blocks):
            height = sum(block.height_mm for block in group)
            if y_mm > top and y_mm + height > BODY_BOTTOM_MM and height <= self.body_height_mm:
                bodies.append([])
                y_mm = top
            for block in group:
                if y_mm > top and y_mm + block.height_mm > BODY_BOTTOM_MM:
                    bodies.append([])
                    y_mm = top
                bodies[-1] += moved(block.marks, LEFT_MM, y_mm)
                y_mm += block.height_mm
        return bodies

    def _foot(self, number: str) -> list[Mark]:
        baseline = FOOT_TOP_MM + 1.3 * FOOT_PT * MM_PER_POINT
        taken = width_mm(number, Face.BOLD, FOOT_PT + 1)
        note = fit(self.note, Face.TEXT, FOOT_PT, room_mm=BODY_WIDTH_MM - taken - 5)
        right = LEFT_MM + BODY_WIDTH_MM
        return [
            Rule(LEFT_MM, FOOT_TOP_MM, BODY_WIDTH_MM),
            Words(LEFT_MM, baseline, note, Face.TEXT, FOOT_PT),
            Words(right - taken, baseline, number, Face.BOLD, FOOT_PT + 1),
        ]


def _groups(blocks: Iterable[Block]) -> list[list[Block]]:
    groups: list[list[Block]] = []
    for block in blocks:
        if block.is_new_group or not groups:
            groups.append([])
        groups[-1].append(block)
    return groups
