"""Pages of marks as a PDF document."""

from __future__ import annotations

from functools import singledispatchmethod
from io import BytesIO
from typing import TYPE_CHECKING

from reportlab.pdfgen.canvas import Canvas

from lotkin_labels.paper.fonts import load_faces
from lotkin_labels.paper.marks import Bar, Frame, Page, Rule, Symbol, Words

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["write_pdf"]

POINTS_PER_MM = 72 / 25.4


def write_pdf(pages: Iterable[Page], *, title: str) -> bytes:
    """Write pages as a PDF document; the same pages give the same bytes.

    Args:
        pages: At least one; each may have a size of its own.
        title: What viewers show in the title of their window.
    """
    load_faces()
    out = BytesIO()
    canvas = Canvas(out, invariant=1, pageCompression=1)
    canvas.setTitle(title)
    canvas.setCreator("lotkin")
    for page in pages:
        canvas.setPageSize((page.width_mm * POINTS_PER_MM, page.height_mm * POINTS_PER_MM))
        painter = _Painter(canvas, page.height_mm)
        for mark in page.marks:
            painter.paint(mark)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


class _Painter:
    """Draws marks on the current page of a canvas, whose origin is at the bottom left."""

    def __init__(self, canvas: Canvas, height_mm: float) -> None:
        self._canvas = canvas
        self._height_mm = height_mm

    def _up(self, y_mm: float) -> float:
        return (self._height_mm - y_mm) * POINTS_PER_MM

    @singledispatchmethod
    def paint(self, mark: object) -> None:
        raise AssertionError(mark)

    @paint.register
    def _(self, words: Words) -> None:
        self._canvas.setFont(words.face.value, words.size_pt)
        self._canvas.drawString(words.x_mm * POINTS_PER_MM, self._up(words.y_mm), words.text)

    @paint.register
    def _(self, rule: Rule) -> None:
        self._canvas.setLineWidth(rule.weight_mm * POINTS_PER_MM)
        height = self._up(rule.y_mm)
        right = rule.x_mm + rule.length_mm
        self._canvas.line(rule.x_mm * POINTS_PER_MM, height, right * POINTS_PER_MM, height)

    @paint.register
    def _(self, frame: Frame) -> None:
        self._canvas.setLineWidth(frame.weight_mm * POINTS_PER_MM)
        self._canvas.rect(
            frame.x_mm * POINTS_PER_MM,
            self._up(frame.y_mm + frame.height_mm),
            frame.width_mm * POINTS_PER_MM,
            frame.height_mm * POINTS_PER_MM,
        )

    @paint.register
    def _(self, bar: Bar) -> None:
        self._canvas.rect(
            bar.x_mm * POINTS_PER_MM,
            self._up(bar.y_mm + bar.height_mm),
            bar.width_mm * POINTS_PER_MM,
            bar.height_mm * POINTS_PER_MM,
            stroke=0,
            fill=1,
        )
        self._canvas.setFillGray(1)
        for words in bar.placed_words:
            self.paint(words)
        self._canvas.setFillGray(0)

    @paint.register
    def _(self, symbol: Symbol) -> None:
        # One path for all modules: drawn one by one, viewers leave hairlines between them.
        path = self._canvas.beginPath()
        side = symbol.module_mm * POINTS_PER_MM
        for column, row, length in symbol.code.dark_runs():
            path.rect(
                (symbol.x_mm + column * symbol.module_mm) * POINTS_PER_MM,
                self._up(symbol.y_mm + (row + 1) * symbol.module_mm),
                length * side,
                side,
            )
        self._canvas.drawPath(path, stroke=0, fill=1)
