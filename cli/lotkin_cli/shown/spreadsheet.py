"""Lists as CSV that a spreadsheet can open without harm (RFC 4180)."""

from __future__ import annotations

import csv
import sys
from decimal import Decimal
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

__all__ = ["Cell", "write_rows"]

Cell = str | int | float | Decimal | bool | None

# Texts that begin so would be run as formulas. Source: OWASP, "CSV Injection".
DANGEROUS = ("=", "+", "-", "@", "\t", "\r", "\n")


def write_rows(columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> None:
    """Write rows as CSV to standard output, the names of the columns first."""
    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows([_written(cell) for cell in row] for row in rows)


def _written(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "true" if cell else "false"
    if isinstance(cell, str):
        # numbers are left alone: one below zero is no formula; a lone carriage return would end
        # the row for some readers, and not every Python quotes it
        text = cell.replace("\r", " ")
        return f"'{text}" if cell.startswith(DANGEROUS) else text
    return format(cell, "f") if isinstance(cell, Decimal) else str(cell)
