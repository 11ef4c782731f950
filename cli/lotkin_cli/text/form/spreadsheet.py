"""Lists as CSV on standard output."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from lotkin_answers.spreadsheet import csv_lines

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from lotkin_answers.spreadsheet import Cell

__all__ = ["write_rows"]


def write_rows(columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> None:
    """Write rows as CSV to standard output, the names of the columns first."""
    sys.stdout.writelines(csv_lines(columns, rows))
