"""Room to write by hand: a line with a small word under it, several in a row."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from lotkin_labels.paper.fonts import MM_PER_POINT, Face
from lotkin_labels.paper.lettering import wrap
from lotkin_labels.paper.marks import Rule, Words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin_labels.paper.marks import Mark

__all__ = ["WRITING_MM", "WriteIn", "write_in_rows"]

WRITING_MM = 7.5
"""Height of a line of handwriting."""

_WORD_PT = 6.5
_GAP_MM = 3.0
_SHARES = 24
_WORD_MM = 1.2 * _WORD_PT * MM_PER_POINT


class WriteIn(NamedTuple):
    """Something to be written in.

    Attributes:
        word: What; stands under the line, in two lines at most.
        share: How wide the line is, of a row of 24.
    """

    word: str
    share: int = 4


class WriteInRow(NamedTuple):
    """One row of lines to write on, from the corner (0, 0)."""

    height_mm: float
    marks: tuple[Mark, ...]


def write_in_rows(
    fields: Sequence[WriteIn], *, left_mm: float, width_mm: float, lines: int = 1
) -> list[WriteInRow]:
    """Set fields in rows, each row filling up to 24 shares of the width.

    Args:
        left_mm: Where the rows begin.
        lines: How many lines each field has; its word stands under the last one.
    """
    rows: list[list[WriteIn]] = []
    taken = _SHARES
    for field in fields:
        if taken + field.share > _SHARES:
            rows.append([])
            taken = 0
        rows[-1].append(field)
        taken += field.share
    return [_row(row, left_mm, width_mm, lines) for row in rows]


def _row(fields: Sequence[WriteIn], left_mm: float, width_mm: float, lines: int) -> WriteInRow:
    marks: list[Mark] = []
    share_mm = (width_mm + _GAP_MM) / _SHARES
    last_mm = lines * WRITING_MM
    words_below = 1
    for field in fields:
        room = field.share * share_mm - _GAP_MM
        marks += [Rule(left_mm, (line + 1) * WRITING_MM, room) for line in range(lines)]
        words = wrap(field.word, Face.TEXT, _WORD_PT, room_mm=room, most=2)
        words_below = max(words_below, len(words))
        for number, text in enumerate(words):
            baseline = last_mm + 0.3 + number * _WORD_MM + 0.85 * _WORD_PT * MM_PER_POINT
            marks.append(Words(left_mm, baseline, text, Face.TEXT, _WORD_PT))
        left_mm += field.share * share_mm
    return WriteInRow(last_mm + 0.3 + words_below * _WORD_MM + 0.6, tuple(marks))
