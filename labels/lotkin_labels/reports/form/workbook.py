"""Tables of records as a workbook (Office Open XML) that can be sorted and filtered.

Nothing in it is ever a formula or a link, whatever a text begins with.
"""

from __future__ import annotations

from decimal import Decimal
from io import BytesIO
from typing import TYPE_CHECKING, Protocol

import xlsxwriter  # type: ignore[import-untyped]  # brings no types of its own

from lotkin.core.values.instants import from_us
from lotkin_labels.reports.form.record_table import RecordColumn, RecordTable

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from lotkin_answers.spreadsheet import Cell

__all__ = ["write_workbook"]

MOST_ROWS = 1_048_575
"""Below the header; source: ECMA-376 implementations have 1,048,576 rows in a sheet."""

MOST_CHARACTERS = 32_767
"""In one cell (ditto)."""

NARROWEST, WIDEST = 8, 60
LOOKED_AT = 2_000
"""Rows that the width of a column is found from."""

OPTIONS = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_numbers": False,
    "strings_to_urls": False,
}


class _Sheet(Protocol):
    """What is used of a sheet of the library."""

    def write_string(self, row: int, column: int, text: str, form: object = None) -> object: ...
    def write_number(self, row: int, column: int, number: float) -> object: ...
    def write_boolean(self, row: int, column: int, flag: object) -> object: ...
    def set_column(self, first: int, last: int, width: float) -> object: ...
    def freeze_panes(self, row: int, column: int) -> object: ...
    def autofilter(self, top: int, left: int, bottom: int, right: int) -> object: ...


def write_workbook(tables: Sequence[RecordTable], *, title: str, written_at: int | None) -> bytes:
    """Write a workbook: a sheet for each table, and one that explains every column.

    A table with more rows than a sheet can have goes on in a further sheet.

    Args:
        title: Of the document.
        written_at: Microseconds UTC; None for 1970.
    """
    out = BytesIO()
    book = xlsxwriter.Workbook(out, OPTIONS)
    # the calendar of workbooks knows no time zones
    made = from_us(written_at or 0).replace(tzinfo=None, microsecond=0)
    book.set_properties({"title": title, "created": made})
    bold = book.add_format({"bold": True, "bottom": 1})
    for table in (*tables, _explained(tables)):
        for name, rows in _sheets(table):
            _fill(book.add_worksheet(name), table, rows, bold)
    book.close()
    return out.getvalue()


def _explained(tables: Sequence[RecordTable]) -> RecordTable:
    columns = (
        RecordColumn("sheet", "Name of a sheet."),
        RecordColumn("column", "Name of a column in it."),
        RecordColumn("meaning", "What stands in it."),
    )
    rows = [
        (table.name, column.name, column.meaning) for table in tables for column in table.columns
    ]
    return RecordTable("columns", columns, tuple(rows))


def _sheets(table: RecordTable) -> Iterator[tuple[str, Sequence[tuple[Cell, ...]]]]:
    yield table.name, table.rows[:MOST_ROWS]
    for number, start in enumerate(range(MOST_ROWS, len(table.rows), MOST_ROWS), start=2):
        yield f"{table.name} {number}", table.rows[start : start + MOST_ROWS]


def _fill(
    sheet: _Sheet, table: RecordTable, rows: Sequence[tuple[Cell, ...]], bold: object
) -> None:
    for at, column in enumerate(table.columns):
        sheet.write_string(0, at, column.name, bold)
        sheet.set_column(at, at, _width(column, [row[at] for row in rows[:LOOKED_AT]]))
    for number, row in enumerate(rows, start=1):
        for at, cell in enumerate(row):
            _write(sheet, number, at, cell)
    sheet.freeze_panes(1, 0)
    sheet.autofilter(0, 0, max(len(rows), 1), len(table.columns) - 1)


def _write(sheet: _Sheet, row: int, column: int, cell: Cell) -> None:
    if isinstance(cell, bool):
        sheet.write_boolean(row, column, cell)
    elif isinstance(cell, (int, float, Decimal)):
        sheet.write_number(row, column, float(cell))
    elif cell:
        sheet.write_string(row, column, cell[:MOST_CHARACTERS])


def _width(column: RecordColumn, cells: Sequence[Cell]) -> float:
    longest = max((len(_shown(cell)) for cell in cells), default=0)
    # the arrow of the filter needs room beside the name
    return min(max(longest + 1, len(column.name) + 3, NARROWEST), WIDEST)


def _shown(cell: Cell) -> str:
    return "" if cell is None else str(cell)
