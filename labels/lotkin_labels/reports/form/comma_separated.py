"""A table of records as a file of CSV (RFC 4180)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_answers.spreadsheet import csv_lines

if TYPE_CHECKING:
    from lotkin_labels.reports.form.record_table import RecordTable

__all__ = ["write_csv"]


def write_csv(table: RecordTable) -> bytes:
    """Write a table in UTF-8, the names of the columns first."""
    names = [column.name for column in table.columns]
    return "".join(csv_lines(names, table.rows, line_end="\r\n")).encode("utf-8")
