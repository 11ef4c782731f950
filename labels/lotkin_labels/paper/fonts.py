"""The typefaces of everything printed: FiraGO for text, Cascadia Mono for codes.

FiraGO has Latin, Greek and Cyrillic. In Cascadia Mono a zero has a stroke, so that nobody who
keys in a code takes it for the letter O. Both are under the SIL Open Font License 1.1 and come
with the package pymupdf-fonts; only the glyphs used are embedded into a document.
"""

from __future__ import annotations

import importlib
import unicodedata
from enum import StrEnum
from functools import cache
from io import BytesIO

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

__all__ = ["MISSING", "MM_PER_POINT", "Face", "can_draw", "load_faces", "width_mm"]

MM_PER_POINT = 25.4 / 72

MISSING = "\N{REPLACEMENT CHARACTER}"
"""Stands for a character that cannot be drawn; the faces show it as a box."""


class Face(StrEnum):
    """A typeface by the name that documents know it by."""

    TEXT = "lotkin-text"
    BOLD = "lotkin-bold"
    CODE = "lotkin-code"


_FILES = {
    Face.TEXT: "FiraGO_Regular",
    Face.BOLD: "FiraGO_Bold",
    Face.CODE: "CascadiaMono_Bold",
}

_RIGHT_TO_LEFT = {"R", "AL", "AN"}
_FIRST_INDIC, _LAST_INDIC = "\u0900", "\u0dff"


@cache
def _font(face: Face) -> TTFont:
    """Load a face and make it known to the PDF writer, once."""
    data: bytes = importlib.import_module(f"pymupdf_fonts.{_FILES[face]}").fontbuffer
    font = TTFont(face.value, BytesIO(data))
    pdfmetrics.registerFont(font)
    return font


def load_faces() -> None:
    """Make all faces known to the PDF writer."""
    for face in Face:
        _font(face)


def width_mm(text: str, face: Face, size_pt: float) -> float:
    """Measure a text in millimetres."""
    return float(_font(face).stringWidth(text, size_pt)) * MM_PER_POINT


def can_draw(char: str, face: Face) -> bool:
    """Tell whether a face has a character and it comes out right letter by letter.

    Right-to-left and Indic scripts do not: their letters join or change places, which needs a
    shaping engine.
    """
    if unicodedata.bidirectional(char) in _RIGHT_TO_LEFT or _FIRST_INDIC <= char <= _LAST_INDIC:
        return False
    return ord(char) in _font(face).face.charToGlyph
