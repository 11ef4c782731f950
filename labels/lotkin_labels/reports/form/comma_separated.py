"""A table of records as CSV that a spreadsheet can open without harm (RFC 4180)."""

from __future__ import annotations

import csv
from decimal import Decimal
from io import StringIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin_labels.reports.form.record_table import Cell, RecordTable

__all__ = ["write_csv"]

DANGEROUS = ("=", "+", "-", "@", "\t", "\r", "\n")
"""Texts that begin so would be run as formulas. Source: OWASP, "CSV Injection"."""


def write_csv(table: RecordTable) -> bytes:
    """Write a table in UTF-8, the names of the columns first.

    A text that a spreadsheet would run as a formula gets an apostrophe in front; numbers do not.
    """
    out = StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([column.name for column in table.columns])
    writer.writerows([_written(cell) for cell in row] for row in table.rows)
    return out.getvalue().encode("utf-8")


def _written(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "true" if cell else "false"
    if isinstance(cell, str):
        # a lone carriage return would end the row for some readers
        text = cell.replace("\r", " ")
        return f"'{text}" if cell.startswith(DANGEROUS) else text
    return format(cell, "f") if isinstance(cell, Decimal) else str(cell)
