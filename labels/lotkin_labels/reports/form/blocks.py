"""Blocks that every report has: its title, numbers set large, room for signatures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_labels.paper.blank_fields import WriteIn, write_in_rows
from lotkin_labels.paper.column import LEADING, Column
from lotkin_labels.paper.document import Block, block_of
from lotkin_labels.paper.fonts import MM_PER_POINT, Face
from lotkin_labels.paper.marks import moved
from lotkin_labels.reports.form.flow import BODY_MM

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin_labels.paper.marks import Mark

__all__ = ["big_numbers", "signature_lines", "title_block"]


def title_block(title: str, under: str) -> Block:
    """Make the title of a report."""
    column = Column(0, BODY_MM)
    column.text(title, Face.BOLD, 18, most=3)
    if under:
        column.text(under, Face.TEXT, 10, most=2)
    column.skip(3)
    return block_of(column)


def big_numbers(numbers: Sequence[tuple[str, str]]) -> Block:
    """Set numbers large, each above its word."""
    marks: list[Mark] = []
    pitch = BODY_MM / len(numbers)
    for at, (number, word) in enumerate(numbers):
        column = Column(at * pitch, pitch - 2, 4)
        column.line(number, Face.BOLD, 22)
        column.line(word, Face.TEXT, 9)
        marks += column.marks
    return Block(4 + (22 + 9) * LEADING * MM_PER_POINT + 3, tuple(marks))


def signature_lines(*who: str) -> Block:
    """Set room for some people to sign."""
    column = Column(0, BODY_MM)
    for word in who:
        fields = (
            WriteIn(word, 8),
            WriteIn("function", 5),
            WriteIn("signature", 7),
            WriteIn("date and time", 4),
        )
        column.skip(3)
        for line in write_in_rows(fields, left_mm=0, width_mm=BODY_MM):
            column.marks += moved(line.marks, 0, column.y_mm)
            column.skip(line.height_mm)
    return block_of(column)
