"""Dispatch notes to outside services on A4: which lots go in which trays, and what is asked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin_labels.errors import NothingToPrint
from lotkin_labels.label.standing import held_text
from lotkin_labels.paper.blank_fields import WriteIn, write_in_rows
from lotkin_labels.paper.column import Column
from lotkin_labels.paper.document import BODY_WIDTH_MM, Block, Paper, block_of
from lotkin_labels.paper.facts import LabelFact
from lotkin_labels.paper.fonts import Face, width_mm
from lotkin_labels.paper.head import document_head, place_symbol
from lotkin_labels.paper.lettering import shown, wrap
from lotkin_labels.paper.marks import HAIR_MM, Rule, Words, moved
from lotkin_labels.paper.pdf import write_pdf
from lotkin_labels.paper.qr import QUIET_MODULES
from lotkin_labels.shop_floor.traveller_pages import SITE_RULES

if TYPE_CHECKING:
    from lotkin_labels.paper.marks import Mark, Page

__all__ = ["DispatchNote", "DispatchRow", "dispatch_pages", "print_dispatch_note"]

_SYMBOL_MM = 14.0
_TEXT_LEFT_MM = 24.0
_NUMBER_MM = 40.0


@dataclass(frozen=True, slots=True, kw_only=True)
class DispatchRow:
    """One lot that is sent.

    Attributes:
        quantity: With its unit, e.g. `27 pcs`.
        tray: Code of the tray that it lies in; the QR code of the row says it, or without one
            the lot.
        held: Why it is held; "" if nothing holds it.
    """

    lot: str
    quantity: str
    part: str = ""
    name: str = ""
    tray: str = ""
    held: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DispatchNote:
    """What goes to an outside service as one batch.

    Attributes:
        batch: Code of the batch.
        works: Who sends it.
        asked: What is to be done, one line each.
        sent_on: Day per ISO 8601.
        totals: Quantity of all rows together, with its unit; "" if that means nothing.
        as_of: When it was looked up what is held; "" if it was not.
        payload: What the QR code of the head says; the batch if "".
    """

    batch: str
    supplier: str
    rows: tuple[DispatchRow, ...]
    works: str = ""
    asked: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    sent_on: str = ""
    totals: str = ""
    as_of: str = ""
    payload: str = ""


def print_dispatch_note(note: DispatchNote) -> bytes:
    """Print a dispatch note on A4; gives a PDF document of one or more pages.

    Raises:
        NothingToPrint: It has no row.
        CodeTooLong: A QR code would be too fine.
    """
    return write_pdf(dispatch_pages(note), title=f"Dispatch note {note.batch}")


def dispatch_pages(note: DispatchNote) -> list[Page]:
    """Lay out a dispatch note; see `print_dispatch_note`."""
    if not note.rows:
        raise NothingToPrint(note.batch, "no lot is sent")
    facts = (
        ("from", note.works, True),
        ("sent", note.sent_on, False),
        ("holds as of", note.as_of, False),
    )
    head = document_head(
        "Dispatch note",
        note.batch,
        title=f"To {note.supplier}",
        payload=note.payload or note.batch,
        facts=[LabelFact(*fact) for fact in facts if fact[1]],
    )
    blocks = [*_asked(note), *(_row(row) for row in note.rows), _total(note), _signatures()]
    return Paper(head, SITE_RULES).pages(blocks)


def _asked(note: DispatchNote) -> list[Block]:
    """Set what is to be done and what to take care of, a block per line so that it can flow."""
    lines = [("Asked", text, Face.TEXT) for text in note.asked]
    lines += [("Caution", text, Face.BOLD) for text in note.cautions]
    blocks = []
    last = ""
    for word, text, face in lines:
        for line in wrap(text, face, 10, room_mm=BODY_WIDTH_MM - _TEXT_LEFT_MM):
            column = Column(_TEXT_LEFT_MM, BODY_WIDTH_MM - _TEXT_LEFT_MM)
            column.line(line, face, 10)
            label = Column(0, _TEXT_LEFT_MM)
            label.line(word if word != last else "", Face.TEXT, 10)
            last = word
            blocks.append(Block(column.y_mm, (*label.marks, *column.marks)))
    return [*blocks, Block(3, ())]


def _row(row: DispatchRow) -> Block:
    symbol = place_symbol(row.tray or row.lot, _SYMBOL_MM, largest_module_mm=0.6)
    quiet = QUIET_MODULES * symbol.module_mm + HAIR_MM
    left = max(_TEXT_LEFT_MM, symbol.side_mm + quiet)
    column = Column(left, BODY_WIDTH_MM - left - _NUMBER_MM)
    column.skip(quiet)
    column.code(row.lot, 13)
    column.text(f"{row.part} {row.name}", Face.TEXT, 9, most=2)
    if row.tray:
        column.field("tray", row.tray, 9)
    if row.held:
        column.text(held_text(row.held), Face.BOLD, 11, most=3)
    height = max(symbol.side_mm + 2 * quiet, column.y_mm + 1.5)
    marks: list[Mark] = [
        Rule(0, 0, BODY_WIDTH_MM),
        *moved([symbol], 0, quiet),
        *column.marks,
        *_at_right(row.quantity, quiet + 4),
    ]
    return Block(height, tuple(marks))


def _at_right(quantity: str, baseline_mm: float) -> list[Mark]:
    """Set a quantity at the right margin, smaller if it is very long."""
    text = shown(quantity)
    size_pt = min(13.0, 13.0 * _NUMBER_MM / max(width_mm(text, Face.BOLD, 13.0), 1.0))
    left = BODY_WIDTH_MM - width_mm(text, Face.BOLD, size_pt)
    return [Words(left, baseline_mm, text, Face.BOLD, size_pt)]


def _total(note: DispatchNote) -> Block:
    column = Column(0, BODY_WIDTH_MM)
    column.rule()
    column.skip(1.5)
    lots = f"{len(note.rows)} lot{'s' if len(note.rows) > 1 else ''}"
    column.line(lots, Face.TEXT, 9)
    column.marks += _at_right(note.totals, 5.5) if note.totals else []
    column.skip(5)
    return block_of(column)


def _signatures() -> Block:
    """Set room for who hands over and who takes over."""
    column = Column(0, BODY_WIDTH_MM)
    for who in ("handed over by", "taken over by"):
        fields = [WriteIn(who, 10), WriteIn("signature", 9), WriteIn("date and time", 5)]
        column.skip(4)
        for line in write_in_rows(fields, left_mm=0, width_mm=BODY_WIDTH_MM):
            column.marks += moved(line.marks, 0, column.y_mm)
            column.skip(line.height_mm)
    return block_of(column, is_new_group=False)  # never alone on a page
