"""Parts that labels of all shapes share: the QR code, rows of facts, cautions, the hold mark."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_labels.errors import CodeTooLong
from lotkin_labels.paper.fonts import MM_PER_POINT, Face, width_mm
from lotkin_labels.paper.marks import Frame, Mark, Symbol, Words
from lotkin_labels.paper.qr import QUIET_MODULES, encode

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from lotkin_labels.label.face import LabelFace
    from lotkin_labels.label.sizes import Stock

__all__ = [
    "HOLD_WORD",
    "caution_text",
    "choose_symbol",
    "hold_room",
]

HOLD_WORD = "hold"


def choose_symbol(face: LabelFace, stock: Stock, rooms_mm: Iterable[tuple[float, float]]) -> Symbol:
    """Make the QR code of a label in the first room that it fits into, at the label's corner.

    Args:
        rooms_mm: Width and height that may be given to it, the preferred one first; the height
            is that of its modules and of the quiet zone below them.

    Raises:
        UnprintableCode, CodeTooLong: The payload cannot be a QR code, or none that fits.
    """
    code = encode(face.payload, allow_bytes=face.allow_bytes)
    for width, height in rooms_mm:
        side = min(width, height * code.modules / (code.modules + QUIET_MODULES))
        module = stock.module_mm(code.modules, side)
        if module is not None:
            corner = max(stock.padding, QUIET_MODULES * module)
            return Symbol(corner, corner, module, code)
    raise CodeTooLong(
        face.payload,
        f"on {stock.code}, modules of its QR code would be under {stock.smallest_module} mm",
    )


def hold_room(right_mm: float, bottom_mm: float, word_pt: float) -> list[Mark]:
    """Draw the place for the mark of a hold: a square with its word at the left.

    Args:
        right_mm, bottom_mm: Lower right corner of the square.
        word_pt: Size of the word.
    """
    side = 2.2 * word_pt * MM_PER_POINT
    left = right_mm - side
    baseline = bottom_mm - side / 2 + 0.25 * word_pt * MM_PER_POINT
    word = width_mm(f"{HOLD_WORD} ", Face.TEXT, word_pt)
    return [
        Words(left - word, baseline, HOLD_WORD, Face.TEXT, word_pt),
        Frame(left, bottom_mm - side, side, side),
    ]


def caution_text(cautions: Sequence[str]) -> str:
    """Put the cautions of a label into one text; "" if there are none."""
    return f"Caution: {'; '.join(cautions)}" if cautions else ""
