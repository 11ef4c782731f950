"""What is wrong in a plain table: one problem for each bad cell, row or file."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Problem", "shown"]

_SHOWN = 40


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong in a table, as its keeper should read it.

    Attributes:
        table: Name of the file.
        line: Line of the file, from 1; 0 if the whole file is meant.
        column: Name of the column; "" if the whole row is meant.
        reason: What is wrong there.
    """

    table: str
    line: int
    column: str
    reason: str

    def __str__(self) -> str:
        line = f" line {self.line}" if self.line else ""
        column = f", column {self.column}" if self.column else ""
        return f"{self.table}{line}{column}: {self.reason}"


def shown(text: str) -> str:
    r"""Write a cell so that it can stand in a message: short, nothing that a terminal obeys.

    Example:
        >>> print(shown("A-1\x1b[31m"))
        A-1\x1b[31m
    """
    short = text if len(text) <= _SHOWN else f"{text[:_SHOWN]}…"
    return short if short.isprintable() else short.encode("unicode_escape").decode("ascii")
