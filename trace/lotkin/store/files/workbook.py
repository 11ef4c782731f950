"""Reading the cells of a spreadsheet (Office Open XML), in bounded time and memory."""

from __future__ import annotations

import datetime as dt
import zipfile
from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING, Any, TypeAlias

from lotkin.core.errors import BadFile

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["read_workbook"]

LARGEST_FILE = 100_000_000
LARGEST_CONTENT = 1_000_000_000
MOST_ROWS = 500_000
MOST_COLUMNS = 300
LONGEST_TEXT = 2_000
MIDNIGHT = dt.time()

Sheets: TypeAlias = "dict[str, list[list[str]]]"
"""Name -> rows of texts."""


def read_workbook(
    path: Path, zone: dt.tzinfo, most_rows: int = MOST_ROWS
) -> dict[str, list[list[str]]]:
    """Read all sheets as texts: whole numbers without a point, days and moments per ISO 8601.

    Formulas count as what they gave when the file was saved.

    Args:
        path: The file.
        zone: Of moments, which a spreadsheet keeps without one.
        most_rows: Rows to read of each sheet.

    Raises:
        BadFile: It is no such file, or larger than a shop's records can be.
    """
    from openpyxl import load_workbook  # noqa: PLC0415 - slow to load

    _check_size(path)
    try:
        book = load_workbook(path, read_only=True, data_only=True, keep_links=False)
        try:
            return {sheet.title: _rows(sheet, zone, path, most_rows) for sheet in book.worksheets}
        finally:
            book.close()
    except BadFile:
        raise
    except Exception as error:
        raise BadFile(
            str(path), f"it cannot be read as a workbook ({type(error).__name__})"
        ) from error


def _check_size(path: Path) -> None:
    try:
        size = path.stat().st_size
        with zipfile.ZipFile(path) as packed:
            content = sum(member.file_size for member in packed.infolist())
    except OSError as error:
        raise BadFile(str(path), error.strerror or "it cannot be read") from error
    except (zipfile.BadZipFile, ValueError) as error:
        hint = "save it as .xlsx"
        raise BadFile(str(path), "it is no workbook of the kind .xlsx", hint=hint) from error
    if size > LARGEST_FILE or content > LARGEST_CONTENT:
        raise BadFile(str(path), "it is too large; split it by year")


def _rows(sheet: Any, zone: dt.tzinfo, path: Path, most: int) -> list[list[str]]:
    rows: list[list[str]] = []
    for row in sheet.iter_rows(values_only=True, max_col=MOST_COLUMNS):
        if len(rows) >= most:
            if most == MOST_ROWS:
                why = f"sheet {sheet.title} has more than {MOST_ROWS:,} rows; split it by year"
                raise BadFile(str(path), why)
            break
        texts = [_text(value, zone) for value in row]
        while texts and not texts[-1]:
            texts.pop()
        rows.append(texts)
    while rows and not rows[-1]:
        rows.pop()
    return rows


def _text(value: Any, zone: dt.tzinfo) -> str:
    if value is None:
        return ""
    if isinstance(value, dt.datetime):
        if value.time() == MIDNIGHT:
            return value.date().isoformat()
        try:
            moment = value.replace(tzinfo=zone).astimezone(dt.UTC)
        except OverflowError:
            return value.isoformat(timespec="seconds")
        return moment.isoformat(timespec="seconds").replace("+00:00", "Z")
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, float):
        return _number(value)
    return " ".join(str(value).split())[:LONGEST_TEXT]


def _number(value: float) -> str:
    """Write a number as a person would: 12, 0.25; six decimals are all that we keep."""
    try:
        rounded = round(Decimal(repr(value)), 6)
    except InvalidOperation:
        return repr(value)
    return format(rounded.normalize(), "f")
