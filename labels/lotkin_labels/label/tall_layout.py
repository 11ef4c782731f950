"""Where everything stands on a label that is higher than wide: code on top, contents below."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_labels.label.parts import caution_text, choose_symbol, hold_room
from lotkin_labels.paper.column import LEADING, Column
from lotkin_labels.paper.fonts import MM_PER_POINT, Face, width_mm
from lotkin_labels.paper.lettering import shown, wrap
from lotkin_labels.paper.marks import HAIR_MM, Page, Symbol, Words
from lotkin_labels.paper.qr import QUIET_MODULES

if TYPE_CHECKING:
    from lotkin_labels.label.face import LabelFace, LabelRow
    from lotkin_labels.label.sizes import Stock
    from lotkin_labels.paper.marks import Mark

__all__ = ["lay_out_tall"]

_CODE_SIZES_PT = (24, 18, 14, 10)
_GAP_MM = 2.0
_CAUTION_LINES = 5
_FACT_TRIES = ((1.25, 3), (1, 3), (0.85, 2), (0.85, 1), (0.7, 1), (0.55, 1))


def lay_out_tall(face: LabelFace, stock: Stock) -> Page:
    """Lay out one label that is higher than wide.

    Raises:
        UnprintableCode, CodeTooLong: The payload cannot be a QR code, or none that fits.
    """
    return Page(*stock.label, tuple(_Tall(face, stock).lay_out()))


class _Tall:
    """One label that is higher than wide."""

    def __init__(self, face: LabelFace, stock: Stock) -> None:
        self.face = face
        self.stock = stock
        self.scale = stock.text_scale
        self.left = stock.padding
        self.width = stock.label[0] - 2 * stock.padding
        self.bottom = stock.label[1] - stock.padding

    def lay_out(self) -> list[Mark]:
        """Set the code as large as leaves room for the facts."""
        marks: list[Mark] = []
        for code_pt in _CODE_SIZES_PT:
            head = self._head(code_pt)
            below, is_enough = self._below(head.y_mm)
            marks = [*head.marks, *below]
            if is_enough:
                break
        return marks

    def _head(self, code_pt: float) -> Column:
        head = Column(self.left, self.width, self.stock.padding)
        head.code(self.face.code, code_pt * self.scale)
        head.skip(0.5 * self.scale)
        head.text(self.face.title, Face.BOLD, 11 * self.scale, most=2)
        head.text(self.face.subtitle, Face.TEXT, 8 * self.scale, most=2)
        head.skip(0.5 * self.scale)
        head.rule()
        return head

    def _below(self, top_mm: float) -> tuple[list[Mark], bool]:
        """Set all below the head, with as many lines of cautions as leave room for the facts."""
        symbol = self._symbol(top_mm)
        foot, foot_top = self._foot(1)
        facts, facts_bottom = self._facts(symbol, top_mm + _GAP_MM, foot_top)
        is_enough = facts_bottom <= foot_top
        for lines in range(2, _CAUTION_LINES + 1):
            more, more_top = self._foot(lines)
            beside, bottom = self._facts(symbol, top_mm + _GAP_MM, more_top)
            if max(bottom, symbol.quiet_area.bottom) > more_top:
                break
            foot, foot_top, facts, facts_bottom = more, more_top, beside, bottom
        rows_top = max(symbol.quiet_area.bottom + HAIR_MM, facts_bottom + _GAP_MM)
        return [symbol, *facts, *self._rows(rows_top, foot_top), *foot], is_enough

    def _symbol(self, top_mm: float) -> Symbol:
        """Make the QR code below the head and above at least one line of cautions."""
        _, bottom_mm = self._foot(1)
        above = HAIR_MM + QUIET_MODULES * self.stock.largest_module
        height = bottom_mm - top_mm - above
        symbol = choose_symbol(
            self.face, self.stock, [(share * self.width, height) for share in (0.42, 0.6)]
        )
        quiet = QUIET_MODULES * symbol.module_mm
        return Symbol(symbol.x_mm, top_mm + HAIR_MM + quiet, symbol.module_mm, symbol.code)

    def _facts(self, symbol: Symbol, top_mm: float, bottom_mm: float) -> tuple[list[Mark], float]:
        """Set the facts under each other, beside the QR code.

        Beside a list of contents they are smaller; where they would run into the foot, too.
        """
        left, right = symbol.quiet_area.right, self.left + self.width
        column = Column(left, right - left, top_mm)
        for factor, most in ((0.75, 2), (0.75, 1), (0.6, 1)) if self.face.rows else _FACT_TRIES:
            column = Column(left, right - left, top_mm)
            for fact in self.face.facts:
                column.line(fact.word, Face.TEXT, 6 * factor * self.scale)
                lines = most if fact.is_name else 1
                column.text(fact.value, Face.BOLD, 10 * factor * self.scale, most=lines)
                column.skip(0.6 * factor * self.scale)
            if column.y_mm <= bottom_mm and not self._is_too_wide(factor, right - left):
                break
        return column.marks, column.y_mm

    def _is_too_wide(self, factor: float, width: float) -> bool:
        """Tell whether something that must not be shortened does not fit on a line."""
        size_pt = 10 * factor * self.scale
        return any(
            not fact.is_name and width_mm(shown(fact.value), Face.BOLD, size_pt) > width
            for fact in self.face.facts
        )

    def _foot(self, most: int) -> tuple[list[Mark], float]:
        """Set cautions, in so many lines at most, and the hold mark at the bottom."""
        marks: list[Mark] = []
        width, top = self.width, self.bottom
        if self.face.has_hold_room:
            marks += hold_room(self.left + self.width, self.bottom, 7 * self.scale)
            width = marks[0].area.left - 2 - self.left
            top = marks[0].area.top
        text, size_pt = caution_text(self.face.cautions), 8 * self.scale
        lines = wrap(text, Face.BOLD, size_pt, room_mm=width, most=most)
        column = Column(self.left, width, self.bottom)
        column.skip(-len(lines) * LEADING * size_pt * MM_PER_POINT)
        top = min(top, column.y_mm)
        column.text(text, Face.BOLD, size_pt, most=most)
        return marks + column.marks, top - _GAP_MM

    def _rows(self, top_mm: float, bottom_mm: float) -> list[Mark]:
        """Set as many lines of the contents as there is room for, and say how many are left."""
        if not self.face.rows:
            return []
        top = Column(self.left, self.width, top_mm)
        top.rule()
        top.skip(_GAP_MM / 2)
        rows = self.face.rows
        for size_pt in (7 * self.scale, 6 * self.scale, 5 * self.scale):
            room = int((bottom_mm - top.y_mm) / (LEADING * size_pt * MM_PER_POINT))
            if len(rows) <= room:
                break
        fitting = rows if len(rows) <= room else rows[: max(room - 1, 0)]
        for row in fitting:
            self._row(top, row, size_pt)
        if len(fitting) < len(rows):
            top.line(f"and {len(rows) - len(fitting)} more", Face.TEXT, size_pt)
        return top.marks

    def _row(self, column: Column, row: LabelRow, size_pt: float) -> None:
        quantity = shown(row.quantity, Face.BOLD)
        taken = width_mm(quantity, Face.BOLD, size_pt)
        line = Column(column.left_mm, column.width_mm - taken - _GAP_MM, column.y_mm)
        name = row.name if row.name != self.face.title else ""
        line.line(f"{row.code} {name}", Face.TEXT, size_pt)
        right = column.left_mm + column.width_mm
        baseline = line.marks[0].y_mm
        column.marks += [
            *line.marks,
            Words(right - taken, baseline, quantity, Face.BOLD, size_pt),
        ]
        column.y_mm = line.y_mm
