"""Travellers on A4: a row per step with its QR code, its limits, and room to write by hand."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from lotkin_labels.errors import NothingToPrint
from lotkin_labels.paper.blank_fields import WriteIn, write_in_rows
from lotkin_labels.paper.column import LEADING, Column
from lotkin_labels.paper.document import BODY_WIDTH_MM, Block, Paper, block_of
from lotkin_labels.paper.facts import LabelFact
from lotkin_labels.paper.fonts import MM_PER_POINT, Face
from lotkin_labels.paper.head import document_head, place_symbol
from lotkin_labels.paper.marks import HAIR_MM, Rule, moved
from lotkin_labels.paper.pdf import write_pdf
from lotkin_labels.paper.qr import QUIET_MODULES

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin_labels.paper.marks import Mark, Page
    from lotkin_labels.shop_floor.traveller import Traveller, TravellerMeasure, TravellerRow

__all__ = ["SITE_RULES", "print_traveller", "traveller_pages"]

SITE_RULES = "Site rules and local codes prevail. Cautions are those of the shop plan."
"""The foot of every document that tells somebody to do something."""

_TEXT_PT = 8.5
_SYMBOL_MM = 16.0
_TEXT_LEFT_MM = 27.0
_LINE_MM = LEADING * _TEXT_PT * MM_PER_POINT
_BY_HAND = (
    WriteIn("lot or serial", 7),
    WriteIn("good", 3),
    WriteIn("scrap", 3),
    WriteIn("by", 3),
    WriteIn("started", 4),
    WriteIn("finished", 4),
)
_BY_HAND_OUTSIDE = (
    WriteIn("lot or serial", 7),
    WriteIn("sent", 3),
    WriteIn("back", 3),
    WriteIn("by", 3),
    WriteIn("sent on", 4),
    WriteIn("back on", 4),
)


def print_traveller(traveller: Traveller) -> bytes:
    """Print a traveller on A4; gives a PDF document of one or more pages.

    Raises:
        NothingToPrint: It has no step.
        CodeTooLong: The QR code of the traveller or of a step would be too fine.
    """
    return write_pdf(traveller_pages(traveller), title=f"Traveller {traveller.code}")


def traveller_pages(traveller: Traveller) -> list[Page]:
    """Lay out a traveller; see `print_traveller`."""
    if not traveller.rows:
        raise NothingToPrint(
            traveller.code,
            f"{traveller.part} has no steps",
            hint="give the part its [[part.step]] in the plan, and load the plan again",
        )
    blocks = [*_beginning(traveller)]
    for row in traveller.rows:
        blocks += _step(row)
    blocks += _tests(traveller.tests)
    return Paper(_head(traveller), SITE_RULES).pages(blocks)


def _head(traveller: Traveller) -> Block:
    facts = (
        ("part", traveller.part, False),
        ("revision", traveller.revision, False),
        ("quantity", traveller.quantity, False),
        ("issued", traveller.issued_on, False),
        ("works", traveller.works, True),
    )
    return document_head(
        "Traveller",
        traveller.code,
        title=traveller.name,
        payload=traveller.payload or traveller.code,
        facts=[LabelFact(*fact) for fact in facts if fact[1]],
    )


def _beginning(traveller: Traveller) -> list[Block]:
    """Set what holds for the whole order: materials and cautions of the part."""
    blocks = []
    lines = [("Material allowed", text) for text in traveller.materials]
    lines += [("Bars", traveller.bars)] if traveller.bars else []
    lines += [("Caution", text) for text in traveller.cautions]
    for number, (word, text) in enumerate(lines):
        is_first = number == 0 or lines[number - 1][0] != word
        blocks += _paragraph(word if is_first else "", text, is_bold=word == "Caution")
    if not traveller.quantity:
        (row,) = write_in_rows([WriteIn("quantity", 6)], left_mm=0, width_mm=BODY_WIDTH_MM)
        blocks.append(Block(row.height_mm, row.marks))
    return [*blocks, Block(1.5, ())] if blocks else []


def _paragraph(word: str, text: str, *, is_bold: bool) -> list[Block]:
    """Set a text with its word at the left, one block per line so that it can flow."""
    column = Column(_TEXT_LEFT_MM, BODY_WIDTH_MM - _TEXT_LEFT_MM)
    column.text(text, Face.BOLD if is_bold else Face.TEXT, _TEXT_PT)
    label = Column(0, _TEXT_LEFT_MM - 0.5)
    label.line(word, Face.TEXT, _TEXT_PT)
    first, *rest = _lines_as_blocks(column.marks) or [Block(_LINE_MM, ())]
    return [Block(_LINE_MM, (*first.marks, *label.marks), is_new_group=False), *rest]


def _lines_as_blocks(marks: Iterable[Mark]) -> list[Block]:
    """Make a block of each line of a column, so that they can go over to the next page."""
    return [
        Block(_LINE_MM, tuple(moved([mark], 0, -number * _LINE_MM)), is_new_group=False)
        for number, mark in enumerate(marks)
    ]


def _step(row: TravellerRow) -> list[Block]:
    """Set one step: its QR code and name, what it asks for, and lines to write on."""
    symbol = place_symbol(row.payload, _SYMBOL_MM, largest_module_mm=0.6)
    quiet = QUIET_MODULES * symbol.module_mm + HAIR_MM
    left = max(_TEXT_LEFT_MM, symbol.side_mm + quiet)
    name = Column(left, BODY_WIDTH_MM - left)
    name.skip(quiet)
    name.text(f"{row.code}  {row.name}", Face.BOLD, 12, most=2)
    name.text(row.place, Face.TEXT, _TEXT_PT, most=2)
    lines = Column(left, BODY_WIDTH_MM - left)
    for text, face in _asked(row):
        lines.text(text, face, _TEXT_PT)
    # What stands beside the QR code stays with it; only what is below may go to the next page.
    limit = symbol.side_mm + 2 * quiet
    beside = max(0, math.ceil((limit - name.y_mm) / _LINE_MM))
    height = max(limit, name.y_mm + _LINE_MM * min(beside, len(lines.marks)))
    top = (
        Rule(0, 0, BODY_WIDTH_MM),
        *moved([symbol], 0, quiet),
        *name.marks,
        *moved(lines.marks[:beside], 0, name.y_mm),
    )
    below = moved(lines.marks[beside:], 0, -beside * _LINE_MM)
    return [Block(height, top), *_lines_as_blocks(below), *_by_hand(row, left)]


def _asked(row: TravellerRow) -> list[tuple[str, Face]]:
    """Say what the plan asks for in a step, line by line."""
    lines = [(f"Takes {text}", Face.TEXT) for text in row.takes]
    lines += [
        (f"{word} {limits}", Face.BOLD)
        for word, limits in (("Time", row.minutes), ("Temperature", row.celsius))
        if limits
    ]
    lines += [
        (f"Measure {measure.name}: {measure.limits}", Face.BOLD)
        for measure in row.measures
        if measure.limits
    ]
    return lines + [(f"Caution: {text}", Face.BOLD) for text in row.cautions]


def _by_hand(row: TravellerRow, left_mm: float) -> list[Block]:
    """Set the lines to write on, for when the system is down."""
    fields = [*(_BY_HAND_OUTSIDE if row.is_outside else _BY_HAND)]
    extra = [WriteIn(word, 6) for word in row.records]
    extra += [WriteIn(_to_write(measure), 6) for measure in row.measures]
    if row.celsius:
        extra.append(WriteIn("temperature", 6))
    rows = [
        *write_in_rows(fields, left_mm=left_mm, width_mm=BODY_WIDTH_MM - left_mm, lines=2),
        *write_in_rows(extra, left_mm=left_mm, width_mm=BODY_WIDTH_MM - left_mm),
    ]
    blocks = [Block(line.height_mm, line.marks, is_new_group=False) for line in rows]
    return [*blocks, Block(2.5, (), is_new_group=False)]


def _to_write(measure: TravellerMeasure) -> str:
    limits = f", {measure.limits}" if measure.limits else ""
    return f"{measure.name}{limits}{'' if measure.is_required else ' (if measured)'}"


def _tests(tests: Iterable[TravellerMeasure]) -> list[Block]:
    """Set what a finished piece must pass, with room for the results."""
    fields = [WriteIn(_to_write(test), 12) for test in tests]
    if not fields:
        return []
    column = Column(0, BODY_WIDTH_MM)
    column.rule()
    column.skip(1.5)
    column.line("Tests of the finished piece", Face.BOLD, 10)
    rows = write_in_rows(fields, left_mm=0, width_mm=BODY_WIDTH_MM)
    return [
        block_of(column),
        *(Block(line.height_mm, line.marks, is_new_group=False) for line in rows),
    ]
