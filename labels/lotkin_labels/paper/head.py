"""The head of a document on A4: what it is, its code large and as a QR code, and facts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_labels.errors import CodeTooLong
from lotkin_labels.paper.column import Column
from lotkin_labels.paper.document import BODY_WIDTH_MM, Block
from lotkin_labels.paper.facts import FactRoom, FactSizes, pack_facts
from lotkin_labels.paper.fonts import Face
from lotkin_labels.paper.marks import Rule, Symbol, moved
from lotkin_labels.paper.qr import QUIET_MODULES, QrCode, encode, is_alphanumeric

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin_labels.paper.facts import LabelFact
    from lotkin_labels.paper.marks import Mark

__all__ = ["SMALLEST_MODULE_MM", "document_head", "place_symbol"]

SMALLEST_MODULE_MM = 0.4
"""For a cheap scanner and an office printer (common practice, no source)."""

_SIDE_MM = 24.0
_LARGEST_MODULE_MM = 0.8
_RULE_MM = 0.3
_SIZES = FactSizes(7, 10.5, 6)


def place_symbol(payload: str, side_mm: float, *, largest_module_mm: float) -> Symbol:
    """Make a QR code at (0, 0) whose modules fill a square of this side, or nearly.

    It takes the byte form where it must: a code that has been given is printed, whatever its
    letters are.

    Raises:
        UnprintableCode: The payload is empty.
        CodeTooLong: Its modules would be under `SMALLEST_MODULE_MM`.
    """
    code: QrCode = encode(payload, allow_bytes=not is_alphanumeric(payload))
    module = min(largest_module_mm, side_mm / code.modules)
    if module < SMALLEST_MODULE_MM:
        raise CodeTooLong(payload, f"modules of its QR code would be under {SMALLEST_MODULE_MM} mm")
    return Symbol(0, 0, module, code)


def document_head(
    kind: str, code: str, *, title: str, payload: str, facts: Sequence[LabelFact]
) -> Block:
    """Make the head of a document.

    Args:
        kind: What it is, e.g. `Traveller`.
        code: Set large.
        title: The line below the code.
        payload: What the QR code says.
        facts: In one row, the most important first.
    """
    symbol = place_symbol(payload, _SIDE_MM, largest_module_mm=_LARGEST_MODULE_MM)
    quiet = QUIET_MODULES * symbol.module_mm
    width = BODY_WIDTH_MM - symbol.side_mm - quiet - 3
    column = Column(0, width)
    column.line(kind, Face.TEXT, 9)
    column.code(code, 22)
    column.text(title, Face.BOLD, 11, most=2)
    column.skip(1)
    room = FactRoom(width, 2 * _SIZES.height_mm, width, 2 * _SIZES.height_mm)
    packed = moved(pack_facts(facts, _SIZES, room).marks, 0, column.y_mm)
    bottom = max(
        [
            symbol.side_mm + quiet + _RULE_MM,
            column.y_mm,
            *(mark.area.bottom + 1.2 for mark in packed),
        ]
    )
    marks: list[Mark] = [
        *column.marks,
        *packed,
        *moved([symbol], BODY_WIDTH_MM - symbol.side_mm, 0),
        Rule(0, bottom, BODY_WIDTH_MM, _RULE_MM),
    ]
    return Block(bottom + 2.5, tuple(marks))
