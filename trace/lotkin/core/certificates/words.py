"""Words where they stand: lines of text as a page shows them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

__all__ = ["Line", "Word", "group_lines", "lines_of_text"]

MOST_LINES = 3000
MOST_WORDS_OF_A_LINE = 200
LONGEST_WORD = 80
"""Beyond these a text is no certificate; what is more is left out."""

NO_SPACE = re.compile(r"\S+")


@dataclass(frozen=True, slots=True)
class Word:
    """A word and where it stands.

    Attributes:
        left, right: Edges, in any unit that grows to the right.
    """

    text: str
    left: float
    right: float

    @property
    def middle(self) -> float:
        """Halfway between the edges."""
        return (self.left + self.right) / 2


@dataclass(frozen=True, slots=True)
class Line:
    """Words that stand beside each other, the leftmost first.

    Attributes:
        page: Number of the page, from 1.
    """

    page: int
    words: tuple[Word, ...]

    @property
    def text(self) -> str:
        """All words, a space between them."""
        return " ".join(word.text for word in self.words)


def lines_of_text(text: str, page: int = 1) -> list[Line]:
    """Read a text set in characters of one width: the column is the place of a word."""
    lines = []
    for row in text[: MOST_LINES * 1000].splitlines()[:MOST_LINES]:
        found = NO_SPACE.finditer(row.expandtabs())
        words = [Word(w[0][:LONGEST_WORD], w.start(), w.end()) for w in found]
        if words:
            lines.append(Line(page, tuple(words[:MOST_WORDS_OF_A_LINE])))
    return lines


def group_lines(placed: Iterable[tuple[Word, float, float]], page: int) -> list[Line]:
    """Gather words of a page into lines, the uppermost first.

    A word belongs to a line if at least half of its height, or of the line's where that is less,
    is beside it: a raised or lowered index stays with its symbol.

    Args:
        placed: n words, each with its lower and its upper edge, in a unit that grows upwards.
        page: Number of the page.
    """
    rows: list[_Row] = []
    for word, low, high in sorted(placed, key=lambda p: (-(p[1] + p[2]) / 2, p[0].left)):
        if not (rows and rows[-1].takes(word, low, high)):
            rows.append(_Row(low, high, [word]))
    return [Line(page, _in_order(row.words)) for row in rows[:MOST_LINES]]


@dataclass(slots=True)
class _Row:
    low: float
    high: float
    words: list[Word]

    def takes(self, word: Word, low: float, high: float) -> bool:
        """Take a word in if it stands beside this row, of which the tallest word is the measure."""
        common = min(high, self.high) - max(low, self.low)
        if common <= 0 or common * 2 < min(high - low, self.high - self.low):
            return False
        self.words.append(word)
        if high - low > self.high - self.low:
            self.low, self.high = low, high
        return True


def _in_order(words: Sequence[Word]) -> tuple[Word, ...]:
    return tuple(sorted(words, key=lambda word: (word.left, word.right))[:MOST_WORDS_OF_A_LINE])
