"""Labels as ZPL II, the language of thermal label printers.

The same marks as in the PDF, but the printer draws the letters and the QR code itself. Its scalable
font is narrower than ours, so that what fits there fits here.

Source: the published programming guide of ZPL II (^XA ^CI ^PW ^LL ^FT ^FO ^A ^FH ^FD ^FR ^BQ ^GB),
from memory; not tried on a printer.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_labels.errors import NothingToPrint
from lotkin_labels.label.sizes import MM_PER_INCH, Stock, find_stock
from lotkin_labels.label.wide_layout import lay_out_label
from lotkin_labels.paper.fonts import MISSING
from lotkin_labels.paper.marks import Bar, Frame, Rule, Symbol, Words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from lotkin_labels.label.face import Label
    from lotkin_labels.paper.marks import Mark, Page

__all__ = ["write_zpl"]

_DEFAULT_DOTS_PER_INCH = 203
_LARGEST_MODULE_DOTS = 10  # of ^BQ on printers of all ages
_SAFE = frozenset(chr(code) for code in range(0x20, 0x7F)) - frozenset("^~_\\")


def write_zpl(labels: Sequence[Label], stock: Stock | str, *, dots_per_inch: int = 0) -> str:
    """Write labels for a thermal printer; gives ASCII text, one format `^XA … ^XZ` per label.

    Args:
        labels: n >= 1.
        stock: A stock or its code, e.g. `THERMAL-102`; of a sheet it takes the size of one label.
        dots_per_inch: Of the printer; 0 for that of the stock, or 203 if it has none.

    Raises:
        NothingToPrint: There is no label.
        UnknownStock: No stock has this code.
        UnprintableCode, CodeTooLong: A payload cannot be a QR code, or none that fits.
    """
    if isinstance(stock, str):
        stock = find_stock(stock)
    if not labels:
        raise NothingToPrint(stock.code, "there is no label to print")
    resolution = dots_per_inch or stock.dots_per_inch or _DEFAULT_DOTS_PER_INCH
    writer = _Writer(resolution / MM_PER_INCH)
    pages = (lay_out_label(label.face(), stock.at_resolution(resolution)) for label in labels)
    return "".join(writer.label(page) for page in pages)


class _Writer:
    """Writes marks in dots."""

    def __init__(self, dots_per_mm: float) -> None:
        self._dots_per_mm = dots_per_mm

    def label(self, page: Page) -> str:
        width, height = self._dots(page.width_mm), self._dots(page.height_mm)
        lines = ["^XA", "^CI28", f"^PW{width}", f"^LL{height}", "^LH0,0"]
        for mark in page.marks:
            lines += self._mark(mark)
        return "\n".join([*lines, "^XZ", ""])

    def _dots(self, mm: float) -> int:
        return round(mm * self._dots_per_mm)

    def _mark(self, mark: Mark) -> Iterator[str]:
        match mark:
            case Words():
                yield self._words(mark)
            case Symbol():
                yield self._symbol(mark)
            case Rule():
                area = mark.area
                weight = max(1, self._dots(mark.weight_mm))
                at = f"^FO{self._dots(area.left)},{self._dots(area.top)}"
                yield f"{at}^GB{self._dots(mark.length_mm)},{weight},{weight}^FS"
            case Frame():
                weight = max(1, self._dots(mark.weight_mm))
                at = f"^FO{self._dots(mark.x_mm)},{self._dots(mark.y_mm)}"
                size = f"{self._dots(mark.width_mm)},{self._dots(mark.height_mm)}"
                yield f"{at}^GB{size},{weight}^FS"
            case Bar():
                yield from self._bar(mark)

    def _bar(self, bar: Bar) -> Iterator[str]:
        """Fill a box, and print the words of it reversed."""
        width, height = self._dots(bar.width_mm), self._dots(bar.height_mm)
        at = f"^FO{self._dots(bar.x_mm)},{self._dots(bar.y_mm)}"
        yield f"{at}^GB{width},{height},{height}^FS"
        yield from (self._words(words, "^FR") for words in bar.placed_words)

    def _words(self, words: Words, reversing: str = "") -> str:
        height = max(10, round(words.size_pt / 72 * MM_PER_INCH * self._dots_per_mm))
        at = f"^FT{self._dots(words.x_mm)},{self._dots(words.y_mm)}"
        return f"{at}^A0N,{height},{height}{reversing}^FH_^FD{_escaped(words.text)}^FS"

    def _symbol(self, symbol: Symbol) -> str:
        at = f"^FO{self._dots(symbol.x_mm)},{self._dots(symbol.y_mm)}"
        module = min(self._dots(symbol.module_mm), _LARGEST_MODULE_DOTS)
        return f"{at}^BQN,2,{module}^FH_^FDQA,{_escaped(symbol.code.payload)}^FS"


def _escaped(text: str) -> str:
    """Write a text so that nothing in it is a command: all but plain characters as `_hex` bytes.

    What no face of ours can draw is a question mark here, since printers differ in what they show
    for a character that they do not have.
    """
    plain = text.replace(MISSING, "?")
    return "".join(
        char
        if char in _SAFE
        else "".join(f"_{byte:02X}" for byte in char.encode("utf-8", "replace"))
        for char in plain
    )
