"""A column that is filled with lines from top to bottom."""

from __future__ import annotations

from dataclasses import dataclass, field

from lotkin_labels.paper.fonts import MM_PER_POINT, Face
from lotkin_labels.paper.lettering import fit, shown, wrap, wrap_code
from lotkin_labels.paper.marks import Mark, Rule, Words

__all__ = ["ASCENT", "LEADING", "Column"]

ASCENT = 0.75
"""From the top of a line to its baseline, as a share of the size."""

LEADING = 1.25
"""From one line to the next, as a share of the size."""


@dataclass(slots=True)
class Column:
    """Lines under each other; each is put below the one before.

    Attributes:
        left_mm, width_mm: Where it stands.
        y_mm: Top of the next line.
        marks: What has been put into it.
    """

    left_mm: float
    width_mm: float
    y_mm: float = 0.0
    marks: list[Mark] = field(default_factory=list)

    def skip(self, height_mm: float) -> None:
        """Leave some room free."""
        self.y_mm += height_mm

    def rule(self) -> None:
        """Draw a thin line over the whole width."""
        self.marks.append(Rule(self.left_mm, self.y_mm, self.width_mm))

    def line(self, text: str, face: Face, size_pt: float) -> None:
        """Put one line, shortened to the width."""
        self._put(fit(text, face, size_pt, room_mm=self.width_mm), face, size_pt)

    def text(self, text: str, face: Face, size_pt: float, *, most: int | None = None) -> None:
        """Put a text in as many lines as it takes, at most `most`."""
        for line in wrap(text, face, size_pt, room_mm=self.width_mm, most=most):
            self._put(line, face, size_pt)

    def code(self, code: str, largest_pt: float) -> None:
        """Put a code, as large as the width allows, and all of it."""
        set_code = wrap_code(code, room_mm=self.width_mm, largest_pt=largest_pt)
        for line in set_code.lines:
            self._put(line, Face.CODE, set_code.size_pt)

    def field(self, word: str, value: str, size_pt: float) -> None:
        """Put a value in bold with its word in front, on one line."""
        word = shown(word)
        lead = Words(self.left_mm, 0, f"{word} ", Face.TEXT, size_pt)
        start = lead.area.right - self.left_mm
        room = max(self.width_mm - start, 0)
        baseline = self.y_mm + ASCENT * size_pt * MM_PER_POINT
        text = fit(value, Face.BOLD, size_pt, room_mm=room)
        self.marks.append(Words(self.left_mm, baseline, word, Face.TEXT, size_pt))
        self.marks.append(Words(self.left_mm + start, baseline, text, Face.BOLD, size_pt))
        self.skip(LEADING * size_pt * MM_PER_POINT)

    def _put(self, text: str, face: Face, size_pt: float) -> None:
        baseline = self.y_mm + ASCENT * size_pt * MM_PER_POINT
        if text:
            self.marks.append(Words(self.left_mm, baseline, text, face, size_pt))
        self.skip(LEADING * size_pt * MM_PER_POINT)
