"""Cards to hang up at a station: large QR codes that say a command or a position of a bench."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin_labels.errors import NothingToPrint
from lotkin_labels.paper.column import Column
from lotkin_labels.paper.fonts import Face
from lotkin_labels.paper.head import place_symbol
from lotkin_labels.paper.marks import Page, Rule, moved
from lotkin_labels.paper.pdf import write_pdf
from lotkin_labels.paper.qr import QUIET_MODULES

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin_labels.paper.marks import Mark

__all__ = ["Card", "card_pages", "print_cards"]

_PAGE_MM = (210.0, 297.0)
_COLUMNS, _ROWS = 2, 5
_CARD_MM = (95.0, 54.0)
_LEFT_MM, _TOP_MM = 10.0, 13.5
_PADDING_MM = 6.0
_SIDE_MM = 36.0
_LARGEST_MODULE_MM = 1.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One card.

    Attributes:
        payload: What its QR code says.
        title: In a word or two, set large.
        text: What it does or means.
        place: Where it belongs, e.g. the bench.
    """

    payload: str
    title: str
    text: str = ""
    place: str = ""


def print_cards(cards: Sequence[Card]) -> bytes:
    """Print cards on A4, ten to a page with lines between; gives a PDF document.

    Raises:
        NothingToPrint: There is no card.
        UnprintableCode, CodeTooLong: A payload cannot be a QR code, or none that fits.
    """
    return write_pdf(card_pages(cards), title="Cards")


def card_pages(cards: Sequence[Card]) -> list[Page]:
    """Lay out cards; see `print_cards`."""
    if not cards:
        raise NothingToPrint("cards", "there is no card to print")
    per_page = _COLUMNS * _ROWS
    return [
        Page(*_PAGE_MM, tuple(_page(cards[start : start + per_page])))
        for start in range(0, len(cards), per_page)
    ]


def _page(cards: Sequence[Card]) -> list[Mark]:
    marks: list[Mark] = []
    for number, card in enumerate(cards):
        row, column = divmod(number, _COLUMNS)
        left = _LEFT_MM + column * _CARD_MM[0]
        top = _TOP_MM + row * _CARD_MM[1]
        marks += moved(_card(card), left, top)
    rows = -(-len(cards) // _COLUMNS)
    width = _COLUMNS * _CARD_MM[0]
    marks += [Rule(_LEFT_MM, _TOP_MM + row * _CARD_MM[1], width) for row in range(rows + 1)]
    return marks


def _card(card: Card) -> list[Mark]:
    symbol = place_symbol(card.payload, _SIDE_MM, largest_module_mm=_LARGEST_MODULE_MM)
    quiet = QUIET_MODULES * symbol.module_mm
    corner = max(_PADDING_MM, quiet)
    top = (_CARD_MM[1] - symbol.side_mm) / 2
    left = corner + symbol.side_mm + quiet
    column = Column(left, _CARD_MM[0] - left - _PADDING_MM, top)
    column.text(card.title, Face.BOLD, 20, most=3)
    column.skip(1)
    column.text(card.text, Face.TEXT, 9, most=4)
    column.text(card.place, Face.BOLD, 9, most=2)
    return [*moved([symbol], corner, top), *column.marks]
