"""Lists as CSV that a spreadsheet can open without harm (RFC 4180)."""

from __future__ import annotations

import csv
import io
from decimal import Decimal
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

__all__ = ["Cell", "csv_lines"]

Cell = str | int | float | Decimal | bool | None

# Texts that begin so would be run as formulas. Source: OWASP, "CSV Injection".
DANGEROUS = ("=", "+", "-", "@", "\t", "\r", "\n")


def csv_lines(
    columns: Sequence[str], rows: Iterable[Sequence[Cell]], *, line_end: str = "\n"
) -> Iterator[str]:
    """Write rows as CSV, the names of the columns first; a row at a time, with its line end.

    A text that a spreadsheet would run as a formula gets an apostrophe in front; numbers do not.
    """
    line = io.StringIO()
    writer = csv.writer(line, lineterminator=line_end)
    writer.writerow(columns)
    for row in rows:
        yield line.getvalue()
        line.seek(0)
        line.truncate()
        writer.writerow([_written(cell) for cell in row])
    yield line.getvalue()


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
