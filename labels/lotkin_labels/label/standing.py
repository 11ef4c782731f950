"""What a label says of a hold: a bar across it, or when it was known that there was none."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from lotkin_labels.paper.column import ASCENT, LEADING
from lotkin_labels.paper.fonts import MM_PER_POINT, Face
from lotkin_labels.paper.lettering import wrap
from lotkin_labels.paper.marks import Bar, Words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin_labels.label.face import Label, LabelFace
    from lotkin_labels.label.sizes import Stock
    from lotkin_labels.paper.marks import Mark

__all__ = ["Foot", "StandingLabel", "feet_of", "held_text", "not_held_text"]

_BAR_PADDING_MM = 0.8
_GAP_MM = 0.6
_BAR_TRIES = ((12, 1), (10, 2), (8, 2), (7, 2))
_TALL_TRIES = (*_BAR_TRIES, (8, 4), (7, 4))
_SHORTENING_TRIES = ((7, 2), (8, 1), (6.5, 1), (5, 1))
_WORDS_TRIES = (6.0, 5.0, 4.0)
"""Sizes in points with the most lines, the preferred one first."""


def held_text(reason: str) -> str:
    """Say that something is held, and why."""
    return f"HELD: {reason}"


def not_held_text(as_of: str) -> str:
    """Say when it was known that nothing held it: paper does not hear of a later hold."""
    return f"not held on {as_of}"


@dataclass(frozen=True, slots=True)
class StandingLabel:
    """A label with what held the item when it was printed.

    Attributes:
        held: Why it is held; "" if nothing held it.
        as_of: When that was so, for people.
    """

    label: Label
    held: str
    as_of: str

    def face(self) -> LabelFace:
        """Give the content of the label; beside a bar there is no place for a mark by hand."""
        face = self.label.face()
        if self.held:
            return replace(face, held=held_text(self.held), has_hold_room=False)
        return replace(face, standing=not_held_text(self.as_of))


@dataclass(frozen=True, slots=True)
class Foot:
    """What stands at the bottom of a label, over its whole width.

    Attributes:
        marks: From the corner (0, 0).
        height_mm: What it takes, the gap above it included.
    """

    marks: tuple[Mark, ...] = ()
    height_mm: float = 0.0


def feet_of(face: LabelFace, stock: Stock) -> Iterator[Foot]:
    """Yield what could stand at the bottom, the preferred one first; an empty one for nothing."""
    width = stock.label[0] - 2 * stock.padding
    if face.held:
        yield from _bars(face.held, stock, width)
    elif face.standing:
        for size_pt in _WORDS_TRIES:
            yield _words(face.standing, size_pt * stock.text_scale, width)
    else:
        yield Foot()


def _bars(text: str, stock: Stock, width_mm: float) -> Iterator[Foot]:
    """Yield bars with the whole reason, then some that shorten it."""
    inside = width_mm - 2 * _BAR_PADDING_MM
    for size_pt, most in _TALL_TRIES if stock.is_tall else _BAR_TRIES:
        scaled = size_pt * stock.text_scale
        if len(wrap(text, Face.BOLD, scaled, room_mm=inside)) <= most:
            yield _bar(text, scaled, most, width_mm)
    for short_pt, most in _SHORTENING_TRIES:
        yield _bar(text, short_pt * stock.text_scale, most, width_mm)


def _bar(text: str, size_pt: float, most: int, width_mm: float) -> Foot:
    inside = width_mm - 2 * _BAR_PADDING_MM
    lines = wrap(text, Face.BOLD, size_pt, room_mm=inside, most=most)
    line_mm = LEADING * size_pt * MM_PER_POINT
    first = _BAR_PADDING_MM / 2 + (ASCENT + 0.1) * size_pt * MM_PER_POINT
    words = tuple(
        Words(_BAR_PADDING_MM, first + number * line_mm, line, Face.BOLD, size_pt)
        for number, line in enumerate(lines)
    )
    height = len(lines) * line_mm + _BAR_PADDING_MM
    return Foot((Bar(0, _GAP_MM, width_mm, height, words),), height + _GAP_MM)


def _words(text: str, size_pt: float, width_mm: float) -> Foot:
    line, *_ = wrap(text, Face.TEXT, size_pt, room_mm=width_mm, most=1)
    baseline = _GAP_MM + ASCENT * size_pt * MM_PER_POINT
    mark = Words(0, baseline, line, Face.TEXT, size_pt)
    return Foot((mark,), _GAP_MM + size_pt * MM_PER_POINT)
