"""What stands on a page, in millimetres from its top left corner: words, rules, frames, QR codes.

Everything that is printed is first laid out as marks; the PDF and the ZPL are written from them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeAlias

from lotkin_labels.paper.fonts import MM_PER_POINT, Face, width_mm
from lotkin_labels.paper.qr import QUIET_MODULES, QrCode

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["HAIR_MM", "Area", "Bar", "Frame", "Mark", "Page", "Rule", "Symbol", "Words", "moved"]


HAIR_MM = 0.12
"""Weight of a thin line; it is drawn half above and half below its height."""


@dataclass(frozen=True, slots=True)
class Area:
    """A rectangle; `left` and `top` are inside, `right` and `bottom` its far sides."""

    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: Area) -> bool:
        """Tell whether two areas share more than an edge."""
        return (
            self.left < other.right - 1e-6
            and other.left < self.right - 1e-6
            and self.top < other.bottom - 1e-6
            and other.top < self.bottom - 1e-6
        )

    def holds(self, other: Area) -> bool:
        """Tell whether another area lies within this one."""
        return (
            self.left <= other.left + 1e-6
            and self.top <= other.top + 1e-6
            and other.right <= self.right + 1e-6
            and other.bottom <= self.bottom + 1e-6
        )


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text; `x_mm` is its left end and `y_mm` its baseline."""

    x_mm: float
    y_mm: float
    text: str
    face: Face
    size_pt: float

    @property
    def area(self) -> Area:
        """What the letters cover, those with descenders included."""
        size_mm = self.size_pt * MM_PER_POINT
        return Area(
            self.x_mm,
            self.y_mm - 0.75 * size_mm,
            self.x_mm + width_mm(self.text, self.face, self.size_pt),
            self.y_mm + 0.22 * size_mm,
        )


@dataclass(frozen=True, slots=True)
class Rule:
    """A thin horizontal line."""

    x_mm: float
    y_mm: float
    length_mm: float
    weight_mm: float = HAIR_MM

    @property
    def area(self) -> Area:
        """What the line covers."""
        half = self.weight_mm / 2
        return Area(self.x_mm, self.y_mm - half, self.x_mm + self.length_mm, self.y_mm + half)


@dataclass(frozen=True, slots=True)
class Frame:
    """A thin empty rectangle, room for a mark made by hand."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    weight_mm: float = 0.2

    @property
    def area(self) -> Area:
        """What the rectangle encloses."""
        return Area(self.x_mm, self.y_mm, self.x_mm + self.width_mm, self.y_mm + self.height_mm)


@dataclass(frozen=True, slots=True)
class Bar:
    """A black rectangle with white words in it, whose places are from its corner."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    words: tuple[Words, ...]

    @property
    def area(self) -> Area:
        """What the rectangle covers."""
        return Area(self.x_mm, self.y_mm, self.x_mm + self.width_mm, self.y_mm + self.height_mm)

    @property
    def placed_words(self) -> list[Words]:
        """The words where they stand on the page."""
        return [
            replace(words, x_mm=self.x_mm + words.x_mm, y_mm=self.y_mm + words.y_mm)
            for words in self.words
        ]


@dataclass(frozen=True, slots=True)
class Symbol:
    """A QR code; `x_mm` and `y_mm` are the corner of its first module, inside the quiet zone."""

    x_mm: float
    y_mm: float
    module_mm: float
    code: QrCode

    @property
    def side_mm(self) -> float:
        """Side of the square of modules, the quiet zone left out."""
        return self.code.modules * self.module_mm

    @property
    def area(self) -> Area:
        """What the modules cover."""
        return Area(self.x_mm, self.y_mm, self.x_mm + self.side_mm, self.y_mm + self.side_mm)

    @property
    def quiet_area(self) -> Area:
        """The modules and the quiet zone around them, where nothing else may stand."""
        quiet = QUIET_MODULES * self.module_mm
        area = self.area
        return Area(area.left - quiet, area.top - quiet, area.right + quiet, area.bottom + quiet)


Mark: TypeAlias = Words | Rule | Frame | Bar | Symbol


@dataclass(frozen=True, slots=True)
class Page:
    """A page or a single label with all that stands on it."""

    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]


def moved(marks: Iterable[Mark], across_mm: float, down_mm: float) -> list[Mark]:
    """Give marks at another place, all moved by the same way."""
    return [replace(mark, x_mm=mark.x_mm + across_mm, y_mm=mark.y_mm + down_mm) for mark in marks]
