"""Tables, lists of facts and grids of codes, as blocks of a report."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin_labels.paper.column import ASCENT, LEADING, Column
from lotkin_labels.paper.document import Block, block_of
from lotkin_labels.paper.fonts import MM_PER_POINT, Face, width_mm
from lotkin_labels.paper.lettering import shown, wrap
from lotkin_labels.paper.marks import Rule, Words
from lotkin_labels.reports.form.flow import BODY_MM, Flow, heading

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin_labels.paper.marks import Mark

__all__ = ["TableColumn", "code_lines", "fact_list", "group_head", "put_table"]

CELL_PT = 8.5
CODE_PT = 8.0
WORD_MM = 34.0
GAP_MM = 3.0
PAD_MM = 0.9
LINE_MM = CELL_PT * LEADING * MM_PER_POINT
MOST_LINES = 20
"""Of a row that stay together; more may go on on the next page."""


@dataclass(frozen=True, slots=True)
class TableColumn:
    """One column of a table.

    Attributes:
        name: Stands above it.
        share: How wide it is, compared to the others.
        is_code: Whether it holds codes, set in their own face.
        is_number: Whether it is set to the right.
    """

    name: str
    share: float
    is_code: bool = False
    is_number: bool = False

    @property
    def face(self) -> Face:
        """Face of its cells."""
        return Face.CODE if self.is_code else Face.TEXT

    @property
    def size_pt(self) -> float:
        """Size of its cells."""
        return CODE_PT if self.is_code else CELL_PT


def put_table(
    flow: Flow, title: str, columns: Sequence[TableColumn], rows: Sequence[Sequence[str]]
) -> None:
    """Put a table with its title; its column heads repeat on every page."""
    widths = _widths(columns)
    names = _table_head(columns, widths)
    blocks = [block for row in rows for block in _table_row(columns, widths, row)]
    flow.put(blocks, head=[*([heading(title)] if title else []), names], again=names)


def _widths(columns: Sequence[TableColumn]) -> list[float]:
    room = BODY_MM - GAP_MM * (len(columns) - 1)
    total = sum(column.share for column in columns)
    return [room * column.share / total for column in columns]


def _table_head(columns: Sequence[TableColumn], widths: Sequence[float]) -> Block:
    marks: list[Mark] = []
    left = 0.0
    for column, width in zip(columns, widths, strict=True):
        start = left
        if column.is_number:
            start += width - width_mm(column.name, Face.BOLD, CELL_PT - 0.5)
        marks.append(Words(start, LINE_MM * 0.8, column.name, Face.BOLD, CELL_PT - 0.5))
        left += width + GAP_MM
    marks.append(Rule(0, LINE_MM + 0.8, BODY_MM, 0.25))
    return Block(LINE_MM + 1.2, tuple(marks))


def _table_row(
    columns: Sequence[TableColumn], widths: Sequence[float], row: Sequence[str]
) -> list[Block]:
    """Make a row: one block, or several that may part where a cell is very long."""
    cells = [
        wrap(cell, column.face, column.size_pt, room_mm=width)
        for column, width, cell in zip(columns, widths, row, strict=True)
    ]
    most = max(1, *(len(lines) for lines in cells))
    blocks = []
    for start in range(0, most, MOST_LINES):
        end = min(start + MOST_LINES, most)
        marks = _cell_lines(columns, widths, [lines[start:end] for lines in cells])
        height = (end - start) * LINE_MM + (2 * PAD_MM if end == most else 0)
        if end == most:
            marks.append(Rule(0, height, BODY_MM, 0.08))
        blocks.append(Block(height, tuple(marks)))
    return blocks


def _cell_lines(
    columns: Sequence[TableColumn], widths: Sequence[float], cells: Sequence[Sequence[str]]
) -> list[Mark]:
    marks: list[Mark] = []
    left = 0.0
    for column, width, lines in zip(columns, widths, cells, strict=True):
        for number, text in enumerate(lines):
            baseline = PAD_MM - 0.2 + number * LINE_MM + ASCENT * CELL_PT * MM_PER_POINT
            start = left
            if column.is_number:
                start += width - width_mm(text, column.face, column.size_pt)
            marks.append(Words(start, baseline, text, column.face, column.size_pt))
        left += width + GAP_MM
    return marks


def fact_list(
    facts: Sequence[tuple[str, str]], *, codes: frozenset[str] = frozenset()
) -> list[Block]:
    """Set facts under each other, each with its word at the left; those without a value go.

    Args:
        codes: Words whose values are codes.
    """
    blocks = []
    for word, value in facts:
        face = Face.CODE if word in codes else Face.TEXT
        size = CODE_PT if word in codes else 9.0
        lines = wrap(value, face, size, room_mm=BODY_MM - WORD_MM)
        for number, text in enumerate(lines):
            label = Column(0, WORD_MM - 2)
            label.line("" if number else word, Face.TEXT, 9)
            column = Column(WORD_MM, BODY_MM - WORD_MM)
            column.line(text, face, size)
            gap = 0.6 if number == len(lines) - 1 else 0.0
            height = max(column.y_mm, label.y_mm) + gap
            blocks.append(Block(height, (*label.marks, *column.marks)))
    return blocks


def group_head(title: str, detail: str) -> Block:
    """Make the lines above a grid of codes: whose they are, and what and how many."""
    column = Column(0, BODY_MM)
    if title:
        column.skip(1.5)
        column.text(title, Face.BOLD, 9, most=2)
    if detail:
        column.text(detail, Face.TEXT, 8.5)
        column.skip(0.4)
    return block_of(column)


def code_lines(codes: Sequence[str]) -> list[Block]:
    """Set codes in as many columns as fit, a block per line; none is ever left out or cut.

    A code longer than the page is wide is wrapped.
    """
    texts = [shown(code, Face.CODE) for code in codes]
    widest = max((width_mm(text, Face.CODE, CODE_PT) for text in texts), default=0.0)
    if widest > BODY_MM:
        lines = [line for text in texts for line in wrap(text, Face.CODE, CODE_PT, room_mm=BODY_MM)]
        return [_line([(0.0, text)]) for text in lines]
    across = max(1, int((BODY_MM + GAP_MM + 1.5) / (widest + GAP_MM + 1.5)))
    pitch = (BODY_MM + GAP_MM) / across
    return [
        _line([(number * pitch, text) for number, text in enumerate(texts[at : at + across])])
        for at in range(0, len(texts), across)
    ]


def _line(texts: Sequence[tuple[float, str]]) -> Block:
    height = CODE_PT * 1.4 * MM_PER_POINT
    words = [Words(left, height * 0.72, text, Face.CODE, CODE_PT) for left, text in texts]
    return Block(height, tuple(words))
