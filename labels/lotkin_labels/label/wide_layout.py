"""Where everything stands on a label: the QR code at the left, the code beside it, facts below."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from lotkin_labels.errors import CodeTooLong
from lotkin_labels.label.parts import caution_text, choose_symbol, hold_room
from lotkin_labels.label.standing import feet_of
from lotkin_labels.label.tall_layout import lay_out_tall
from lotkin_labels.paper.column import LEADING, Column
from lotkin_labels.paper.facts import FactRoom, FactSizes, LabelFact, PackedFacts, pack_facts
from lotkin_labels.paper.fonts import MM_PER_POINT, Face
from lotkin_labels.paper.lettering import wrap
from lotkin_labels.paper.marks import HAIR_MM, Page, Rule, Symbol, moved

if TYPE_CHECKING:
    from lotkin_labels.label.face import LabelFace
    from lotkin_labels.label.sizes import Stock
    from lotkin_labels.paper.marks import Mark

__all__ = ["lay_out_label"]

_GAP_MM = 1.2
_CAUTION_LINES = 3
_HEADS = tuple((code_pt, lines) for code_pt in (18, 14, 11, 9, 7) for lines in (2, 1))
"""Sizes of the code with the most lines of the title, the preferred one first."""


def lay_out_label(face: LabelFace, stock: Stock) -> Page:
    """Lay out one label.

    Raises:
        UnprintableCode, CodeTooLong: The payload cannot be a QR code, or none that fits.
    """
    feet = list(feet_of(face, stock))
    for foot in feet:
        width, height = stock.label
        upper = replace(stock, label=(width, height - foot.height_mm))
        try:
            page = _lay_out_upper(face, upper, is_tall=stock.is_tall)
        except CodeTooLong:
            if foot is feet[-1]:
                raise
            continue
        top = height - stock.padding - foot.height_mm
        return Page(*stock.label, (*page.marks, *moved(foot.marks, stock.padding, top)))
    raise AssertionError(feet)


def _lay_out_upper(face: LabelFace, stock: Stock, *, is_tall: bool) -> Page:
    """Lay out all that stands above the foot."""
    if is_tall:
        return lay_out_tall(face, stock)
    return Page(*stock.label, tuple(_Wide(face, stock).lay_out()))


class _Wide:
    """One label that is wider than high."""

    def __init__(self, face: LabelFace, stock: Stock) -> None:
        self.face = face
        self.stock = stock
        self.scale = stock.text_scale
        self.sizes = FactSizes(6 * self.scale, 9 * self.scale, 3 * self.scale)
        self.caution_pt = 6.5 * self.scale
        self.left = stock.padding
        self.right = stock.label[0] - stock.padding
        self.bottom = stock.label[1] - stock.padding
        self.facts = face.facts
        if face.rows:
            lines = f"{len(face.rows)} line{'s' if len(face.rows) > 1 else ''}"
            self.facts = (*face.facts, LabelFact("contents", lines))

    def lay_out(self) -> list[Mark]:
        belows = self._heights_below()
        across = 0.45 * (self.right - self.left)
        height = self.bottom - self.stock.padding
        rooms = [(across, height - below) for below in belows]
        symbol = choose_symbol(self.face, self.stock, rooms)
        head, head_bottom = self._head(symbol, belows)
        strip_top = max(symbol.quiet_area.bottom + HAIR_MM, head_bottom + _GAP_MM / 2)
        return [symbol, *head, *self._strip(strip_top)]

    def _heights_below(self) -> list[float]:
        """Give heights that the part below the QR code could have, the preferred one first."""
        one_row = FactRoom(self.right - self.left, self.sizes.height_mm, 0, self.bottom)
        rows = 2 if pack_facts(self.facts, self.sizes, one_row).left_out else 1
        large, small = self.sizes.times(0.85).height_mm, self.sizes.times(0.72).height_mm
        fixed = 1.5 * _GAP_MM + self._caution_mm(1)
        heights = [rows * large, rows * small, large, small]
        if self.face.held or self.face.standing:
            heights.append(0.0)  # what is said of a hold goes before all facts
        return [fixed + height for height in heights]

    def _caution_mm(self, lines: int) -> float:
        return lines * LEADING * self.caution_pt * MM_PER_POINT if self.face.cautions else 0.0

    def _head(self, symbol: Symbol, belows: list[float]) -> tuple[list[Mark], float]:
        """Set code, title and subtitle beside the QR code, as large as there is room for."""
        left = max(symbol.quiet_area.right, symbol.area.right + 2)
        column = Column(left, self.right - left)
        for below in belows:
            lowest = max(self.bottom - below, symbol.quiet_area.bottom)
            for code_pt, title_lines in _HEADS[: None if below == belows[-1] else 4]:
                column = Column(left, self.right - left, self.stock.padding)
                column.code(self.face.code, code_pt * self.scale)
                column.skip(0.4 * self.scale)
                column.text(self.face.title, Face.BOLD, 9 * self.scale, most=title_lines)
                column.text(self.face.subtitle, Face.TEXT, 7 * self.scale, most=1)
                if column.y_mm <= lowest:
                    return column.marks, column.y_mm
        return column.marks, column.y_mm

    def _strip(self, top: float) -> list[Mark]:
        """Set facts, cautions and the hold mark below a rule.

        Cautions get as many lines as leave room for all facts, but one at least.
        """
        full = self.right - self.left
        marks: list[Mark] = [Rule(self.left, top, full)]
        narrow, hold_top = full, self.bottom
        if self.face.has_hold_room:
            hold = hold_room(self.right, self.bottom, self.sizes.word_pt)
            marks += hold
            narrow = hold[0].area.left - _GAP_MM - self.left
            hold_top = hold[1].area.top
        top += _GAP_MM
        packed, foot = PackedFacts([], 0), Column(self.left, narrow)
        for lines in range(_CAUTION_LINES, 0, -1):
            foot = self._cautions(narrow, lines)
            height = foot.y_mm - top - self._caution_mm(len(foot.marks))
            room = FactRoom(full, height, narrow, hold_top - top)
            packed = pack_facts(self.facts, self.sizes, room)
            if not packed.left_out:
                break
        return [*marks, *foot.marks, *moved(packed.marks, self.left, top)]

    def _cautions(self, width: float, most: int) -> Column:
        """Set the cautions at the bottom, smaller if they do not fit into the lines."""
        text = caution_text(self.face.cautions)
        size_pt = self.caution_pt
        if len(wrap(text, Face.BOLD, size_pt, room_mm=width)) > most:
            size_pt *= 0.85
        lines = wrap(text, Face.BOLD, size_pt, room_mm=width, most=most)
        column = Column(self.left, width, self.bottom - self._caution_mm(len(lines)))
        for line in lines:
            column.line(line, Face.BOLD, size_pt)
        column.y_mm = self.bottom
        return column
