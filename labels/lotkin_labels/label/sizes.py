"""The label stocks that can be printed on, read from `sizes.toml`."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, TypedDict, cast

from lotkin_labels.errors import UnknownStock

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["MM_PER_INCH", "Stock", "find_stock", "stocks"]

MM_PER_INCH = 25.4


@dataclass(frozen=True, slots=True)
class Stock:
    """A label stock; lengths in millimetres, pairs are (across, down) from the top left corner.

    Attributes:
        code: What it is called by, e.g. `A4-21`.
        page, label: Sizes.
        first: Corner of the first label on the page.
        pitch: From one label to the next.
        padding: Kept free along the edge of each label.
        smallest_module, largest_module: Bounds for the side of one module of a QR code.
        dots_per_inch: Of the printers made for it; 0 for any printer.
        text_scale: Size of the lettering, relative to that of `A4-21`.
    """

    code: str
    name: str
    page: tuple[float, float]
    label: tuple[float, float]
    columns: int
    rows: int
    first: tuple[float, float]
    pitch: tuple[float, float]
    padding: float
    smallest_module: float
    largest_module: float
    dots_per_inch: int
    text_scale: float

    @property
    def labels_per_page(self) -> int:
        """How many labels one page has."""
        return self.columns * self.rows

    @property
    def is_tall(self) -> bool:
        """Tell whether a label is higher than wide."""
        return self.label[1] > self.label[0]

    def at_resolution(self, dots_per_inch: int) -> Stock:
        """Give the stock for a printer of another resolution."""
        return replace(self, dots_per_inch=dots_per_inch)

    def corners(self) -> Iterator[tuple[float, float]]:
        """Give the top left corner of each label of a page, row by row."""
        for row in range(self.rows):
            for column in range(self.columns):
                yield (
                    self.first[0] + column * self.pitch[0],
                    self.first[1] + row * self.pitch[1],
                )

    def module_mm(self, modules: int, room_mm: float) -> float | None:
        """Choose the side of a module so that a symbol fits into a room.

        Args:
            modules: Of one side of the symbol.
            room_mm: Side of the square that the symbol may take, its quiet zone left out.

        Returns:
            The largest side that the stock allows, a whole number of dots where the stock has
            dots; None if even the smallest does not fit.
        """
        side = min(self.largest_module, room_mm / modules)
        if self.dots_per_inch:
            dot = MM_PER_INCH / self.dots_per_inch
            side = int(side / dot + 1e-9) * dot
        return side if side >= self.smallest_module - 1e-9 else None


class _Entry(TypedDict):
    code: str
    name: str
    page: list[float]
    label: list[float]
    columns: int
    rows: int
    first: list[float]
    pitch: list[float]
    padding: float
    smallest_module: float
    largest_module: float
    dots_per_inch: int
    text_scale: float


@cache
def stocks() -> tuple[Stock, ...]:
    """Give all stocks in the order of the file."""
    text = (files("lotkin_labels") / "sizes.toml").read_text("utf-8")
    entries = cast("list[_Entry]", tomllib.loads(text)["stock"])
    return tuple(_read(entry) for entry in entries)


def _read(entry: _Entry) -> Stock:
    return Stock(
        code=entry["code"],
        name=entry["name"],
        page=_pair(entry["page"]),
        label=_pair(entry["label"]),
        columns=entry["columns"],
        rows=entry["rows"],
        first=_pair(entry["first"]),
        pitch=_pair(entry["pitch"]),
        padding=entry["padding"],
        smallest_module=entry["smallest_module"],
        largest_module=entry["largest_module"],
        dots_per_inch=entry.get("dots_per_inch", 0),
        text_scale=entry["text_scale"],
    )


def _pair(values: list[float]) -> tuple[float, float]:
    across, down = values
    return (across, down)


def find_stock(code: str) -> Stock:
    """Find a stock by its code, in any case of letters.

    Raises:
        UnknownStock: There is none of this code.
    """
    for stock in stocks():
        if stock.code == code.upper():
            return stock
    raise UnknownStock(code, [stock.code for stock in stocks()])
