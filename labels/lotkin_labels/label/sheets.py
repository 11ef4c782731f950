"""Labels on their stock, as a PDF document."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_labels.errors import NothingToPrint
from lotkin_labels.label.sizes import Stock, find_stock
from lotkin_labels.label.wide_layout import lay_out_label
from lotkin_labels.paper.marks import Page, moved
from lotkin_labels.paper.pdf import write_pdf

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from lotkin_labels.label.face import Label

__all__ = ["label_pages", "print_labels"]


def print_labels(labels: Sequence[Label], stock: Stock | str, *, skip: int = 0) -> bytes:
    """Print labels on a stock; gives a PDF document.

    Args:
        labels: n >= 1, in the order of the sheet: row by row.
        stock: A stock or its code, e.g. `A4-21`.
        skip: Labels of the first sheet that are used up already, >= 0.

    Raises:
        NothingToPrint: There is no label.
        UnknownStock: No stock has this code.
        UnprintableCode, CodeTooLong: A payload cannot be a QR code, or none that fits.
    """
    return write_pdf(label_pages(labels, stock, skip=skip), title="Labels")


def label_pages(labels: Sequence[Label], stock: Stock | str, *, skip: int = 0) -> list[Page]:
    """Lay out labels on the pages of a stock; see `print_labels`."""
    if isinstance(stock, str):
        stock = find_stock(stock)
    if not labels:
        raise NothingToPrint(stock.code, "there is no label to print")
    places = _places(stock, skip % stock.labels_per_page)
    pages: list[Page] = []
    for label in labels:
        is_new_page, across, down = next(places)
        if is_new_page or not pages:
            pages.append(Page(*stock.page, ()))
        marks = moved(lay_out_label(label.face(), stock).marks, across, down)
        pages[-1] = Page(*stock.page, (*pages[-1].marks, *marks))
    return pages


def _places(stock: Stock, skip: int) -> Iterator[tuple[bool, float, float]]:
    """Give places without end: whether a page begins with it, and its corner."""
    while True:
        for number, (across, down) in enumerate(stock.corners()):
            if number >= skip:
                yield (number == 0, across, down)
        skip = 0
