"""Tables for people: fitted to a terminal, as wide as they need anywhere else."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar

from lotkin_cli.output.streams import Screen, clean, output, write

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

__all__ = ["MANY", "Column", "capped", "print_table", "width_of"]

Row = TypeVar("Row")

MANY = 200
"""Rows of a table for people; more only with `--all`."""

NARROWEST = 16
"""Characters below which no column is narrowed; nor is one below its longest word."""

GAP = 2

FITTED_AT_MOST = 2_000
"""Rows that are fitted to a terminal; more go by too fast to be read."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table.

    Attributes:
        title: What it is.
        right: Whether it is set flush right, as numbers are.
        wraps: Whether its text may be broken over lines; codes never are.
    """

    title: str
    right: bool = False
    wraps: bool = False


def width_of(text: str) -> int:
    """Give how many characters of a terminal a text takes."""
    if text.isascii():
        return len(text)
    return sum(
        0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1
        for c in text
    )


def capped(rows: Sequence[Row], *, everything: bool) -> Sequence[Row]:
    """Give the rows that are shown: all, or the first `MANY`."""
    return rows if everything else rows[:MANY]


def print_table(
    columns: Sequence[Column],
    rows: Sequence[Sequence[str]],
    *,
    more: int = 0,
    how_to_see_all: str = "--all",
    screen: Screen | None = None,
) -> None:
    """Print a table, indented; columns in which nothing stands are left out.

    Args:
        columns: n columns.
        rows: Rows of n cells.
        more: How many rows there are that are not printed.
        how_to_see_all: What to type to see them.
        screen: Where to; standard output if not said.
    """
    to = output() if screen is None else screen
    used = [i for i in range(len(columns)) if any(row[i] for row in rows)]
    cells = [[clean(row[i]) for i in used] for row in rows]
    _print([columns[i] for i in used], cells, to)
    if more:
        write(f"  … and {more} more; {how_to_see_all} shows them", to.stream)


def _print(columns: Sequence[Column], cells: Sequence[Sequence[str]], to: Screen) -> None:
    widths = [
        max(width_of(column.title), *(width_of(row[i]) for row in cells), 0)
        for i, column in enumerate(columns)
    ]
    if to.is_terminal and len(cells) <= FITTED_AT_MOST:
        _print_fitted(columns, cells, widths, to)
        return
    for row in ([column.title for column in columns], *cells):
        padded = [
            _pad(cell, widths[i], right=column.right)
            for i, (cell, column) in enumerate(zip(row, columns, strict=True))
        ]
        write(f"{' ' * GAP}{(' ' * GAP).join(padded)}".rstrip(), to.stream)


def _pad(text: str, width: int, *, right: bool) -> str:
    space = " " * (width - width_of(text))
    return space + text if right else text + space


def _print_fitted(
    columns: Sequence[Column], cells: Sequence[Sequence[str]], widths: Sequence[int], to: Screen
) -> None:
    # slow to load, and needed only where somebody looks
    from rich.console import Console
    from rich.padding import Padding
    from rich.table import Table
    from rich.text import Text

    least = [
        _narrowest((row[i] for row in cells), widths[i]) if column.wraps else widths[i]
        for i, column in enumerate(columns)
    ]
    console = Console(
        file=to.stream,
        # rather too wide for the terminal than a code that is cut or broken
        width=max(to.columns, sum(least) + GAP * (len(columns) + 1)),
        color_system="standard" if to.has_colour else None,
        force_terminal=to.has_colour,
        highlight=False,
        legacy_windows=False,
    )
    table = Table(box=None, padding=(0, GAP, 0, 0), pad_edge=False, header_style="bold")
    for column, width in zip(columns, least, strict=True):
        table.add_column(
            column.title,
            justify="right" if column.right else "left",
            no_wrap=not column.wraps,
            min_width=width,
            overflow="fold",
        )
    for row in cells:
        table.add_row(*(Text(cell) for cell in row))
    console.print(Padding(table, (0, 0, 0, GAP), expand=False))


def _narrowest(cells: Iterable[str], widest: int) -> int:
    """Tell how narrow a column can get without a code in it being broken."""
    longest = max((width_of(word) for cell in cells for word in cell.split()), default=0)
    return min(widest, max(longest, NARROWEST))
