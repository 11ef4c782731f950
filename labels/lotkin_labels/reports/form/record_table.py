"""Tables of records, for spreadsheets: columns that are explained, and rows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.values.quantities import from_micro

__all__ = ["RecordColumn", "RecordTable", "amount"]

if TYPE_CHECKING:
    from decimal import Decimal

    from lotkin_answers.spreadsheet import Cell


@dataclass(frozen=True, slots=True)
class RecordColumn:
    """One column.

    Attributes:
        name: Stands in the first row.
        meaning: One sentence that explains it.
    """

    name: str
    meaning: str


@dataclass(frozen=True, slots=True)
class RecordTable:
    """Records of one sort, one row each.

    Attributes:
        name: Of the sheet; at most 25 characters.
        rows: Each has one cell for each column.
    """

    name: str
    columns: tuple[RecordColumn, ...]
    rows: tuple[tuple[Cell, ...], ...]


def amount(micro: int | None) -> Decimal | None:
    """Turn millionths into a number for a cell."""
    return None if micro is None else from_micro(micro)
