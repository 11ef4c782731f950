"""Facts, each a word and what it says, set in rows."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from lotkin_labels.paper.column import ASCENT, LEADING
from lotkin_labels.paper.fonts import MM_PER_POINT, Face
from lotkin_labels.paper.lettering import fit, shown
from lotkin_labels.paper.marks import Mark, Words, moved

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["FactRoom", "FactSizes", "LabelFact", "PackedFacts", "pack_facts"]


class LabelFact(NamedTuple):
    """A word and what it says of this item, e.g. `heat` and `H48213`.

    A name may be shortened where there is little room; codes, days and quantities may not.
    """

    word: str
    value: str
    is_name: bool = False


class FactSizes(NamedTuple):
    """Sizes of a fact: its word stands small above its value; in points, gap in millimetres."""

    word_pt: float
    value_pt: float
    gap_mm: float

    @property
    def height_mm(self) -> float:
        """Height of one row of facts."""
        return (self.word_pt + self.value_pt) * LEADING * MM_PER_POINT

    def times(self, factor: float) -> FactSizes:
        """Give smaller or larger sizes; the words never get smaller than they are."""
        return FactSizes(self.word_pt * max(factor, 1), self.value_pt * factor, self.gap_mm)


class FactRoom(NamedTuple):
    """Where facts may stand: a rectangle without the part of it that the hold mark takes.

    Attributes:
        narrow_mm: Width from `narrow_from_mm` below the top on.
    """

    width_mm: float
    height_mm: float
    narrow_mm: float
    narrow_from_mm: float

    def widths_mm(self, row_mm: float) -> list[float]:
        """Give the width of each row of a height that there is room for."""
        rows = int(self.height_mm / row_mm + 1e-9)
        bottoms = ((row + 1) * row_mm for row in range(rows))
        return [
            self.width_mm if bottom <= self.narrow_from_mm else self.narrow_mm for bottom in bottoms
        ]


class PackedFacts(NamedTuple):
    """Facts set in rows from the corner (0, 0), and how many found no room."""

    marks: list[Mark]
    left_out: int


def pack_facts(facts: Sequence[LabelFact], sizes: FactSizes, room: FactRoom) -> PackedFacts:
    """Set facts in rows.

    Where they need more room than there is, the lettering gets smaller, then names are shortened;
    what then still finds no room is left out, the last first.
    """
    kept = list(facts)
    while kept:
        for factor, share in ((1, 1), (0.85, 1), (0.72, 1), (0.72, 0.5), (0.72, 0.35)):
            smaller = sizes.times(factor)
            packed = _pack(kept, smaller, room.widths_mm(smaller.height_mm), share)
            if packed is not None:
                return PackedFacts(packed, len(facts) - len(kept))
        kept.pop()
    return PackedFacts([], len(facts))


def _pack(
    facts: Sequence[LabelFact], sizes: FactSizes, widths_mm: Sequence[float], share: float
) -> list[Mark] | None:
    """Set facts one after the other, names in a share of the row; None if the rows do not do."""
    marks: list[Mark] = []
    row, left = 0, 0.0
    if not widths_mm:
        return None
    for fact in facts:
        most = widths_mm[row] * (share if fact.is_name else 1)
        pair = _fact(fact, sizes, most)
        width = max(words.area.right for words in pair)
        if left and left + width > widths_mm[row]:
            row, left = row + 1, 0.0
            if row == len(widths_mm) or width > widths_mm[row]:
                return None
        marks += moved(pair, left, row * sizes.height_mm)
        left += width + sizes.gap_mm
    return marks


def _fact(fact: LabelFact, sizes: FactSizes, most_mm: float) -> list[Words]:
    """Set one fact at (0, 0): the word small, the value below it."""
    upper = ASCENT * sizes.word_pt * MM_PER_POINT
    lower = (LEADING * sizes.word_pt + ASCENT * sizes.value_pt) * MM_PER_POINT
    value = fit(fact.value, Face.BOLD, sizes.value_pt, room_mm=most_mm)
    return [
        Words(0, upper, shown(fact.word), Face.TEXT, sizes.word_pt),
        Words(0, lower, value, Face.BOLD, sizes.value_pt),
    ]
