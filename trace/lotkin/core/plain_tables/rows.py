"""From the raw lines of a table to rows of cells in a fixed order of columns."""

from __future__ import annotations

import csv
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.errors.problems import Problem, shown

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

__all__ = ["LONGEST_LINE", "Layout", "Rows"]

LONGEST_LINE = 65_536
"""Bytes that a line may have; whoever reads the file may cut lines that are longer."""

SHORT = 500
ODD = b'" \t\r\v\f\x1c\x1d\x1e\x1f'
"""Bytes that make a line one to be looked at closely: quotes, and what `str.strip` takes away."""

UTF8_MARK = b"\xef\xbb\xbf"
UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")
SAVE_AS = "save it as CSV in UTF-8"


class Layout(NamedTuple):
    """Columns of a table: those that must be there, and those that may be left out."""

    needed: tuple[str, ...]
    optional: tuple[str, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """All columns in the order in which rows are given."""
        return self.needed + self.optional


class Header(NamedTuple):
    """What the first line says: the delimiter, and where each column stands (-1: left out)."""

    delimiter: str
    places: tuple[int, ...]
    width: int


class Rows:
    """The rows of a table, read once.

    Takes UTF-8 with or without its mark, CR LF or LF, commas or semicolons, the columns in any
    order. No cell of these tables has a line break in it, so every line is a row of its own, and a
    quote that is never closed spoils one row only. Empty rows are left out.

    Attributes:
        is_readable: Whether the header was understood; told once iteration has begun.
    """

    def __init__(
        self, table: str, lines: Iterable[bytes], layout: Layout, problems: list[Problem]
    ) -> None:
        self.table = table
        self.is_readable = False
        self._lines = enumerate(lines, 1)
        self._layout = layout
        self._problems = problems

    def __iter__(self) -> Iterator[tuple[int, list[str]]]:
        """Give (line number, cells without surrounding blanks); bad rows are noted instead."""
        header = self._read_header()
        if header is None:
            return
        self.is_readable = True
        delimiter, places, width = header
        in_order = places == tuple(range(width))
        for number, raw in self._lines:
            cells = self._cells(number, raw, delimiter)
            if not any(cells):
                continue
            while len(cells) > width and not cells[-1]:
                cells.pop()
            if len(cells) != width:
                self._note(number, "", f"has {len(cells)} cells, the header has {width}")
                continue
            if not in_order:
                cells = [cells[place] if place >= 0 else "" for place in places]
            yield number, cells

    def _note(self, line: int, column: str, reason: str) -> None:
        self._problems.append(Problem(self.table, line, column, reason))

    def _cells(self, number: int, raw: bytes, delimiter: str) -> list[str]:
        """Divide a line into cells; [] for none, with the problem noted if it has any."""
        line = raw.rstrip(b"\r\n")
        if len(raw) < SHORT and raw.isascii() and len(line.translate(None, ODD)) == len(line):
            # most lines are such: no blank, no quote, nothing to be cut off but the end
            return line.decode("ascii").split(delimiter)
        text = self._text(number, raw)
        return self._split(number, text, delimiter) if text else []

    def _text(self, number: int, raw: bytes) -> str | None:
        """Decode a line; None, with the problem noted, if it is no text."""
        if len(raw) > LONGEST_LINE:
            self._note(number, "", f"is longer than {LONGEST_LINE} bytes")
            return None
        try:
            return raw.decode("utf-8").rstrip("\r\n")
        except UnicodeDecodeError as error:
            byte = raw[error.start]
            self._note(number, "", f"is not UTF-8 (byte {byte:#04x}); {SAVE_AS}")
            return None

    def _split(self, number: int, text: str, delimiter: str) -> list[str]:
        """Divide a line into cells; [], with the problem noted, if its quotes do not match."""
        if '"' not in text:
            return [cell.strip() for cell in text.split(delimiter)]
        try:
            cells = next(csv.reader([text], delimiter=delimiter, strict=True))
        except csv.Error:
            self._note(number, "", 'a quote (") is not closed, or text stands beside it')
            return []
        return [cell.strip() for cell in cells]

    # --- the header

    def _read_header(self) -> Header | None:
        for number, raw in self._lines:
            if number == 1 and self._is_no_text(raw):
                return None
            decoded = self._text(number, raw.removeprefix(UTF8_MARK))
            if decoded is None:
                return None
            text = decoded.strip()
            if "\r" in text:
                self._note(number, "", "lines end in CR alone; save it with LF or CR LF")
                return None
            if text:
                return self._understand(number, text)
        self._note(1, "", f"is empty; its first line must be {','.join(self._layout.names)}")
        return None

    def _is_no_text(self, raw: bytes) -> bool:
        if raw.startswith(UTF16_MARKS):
            self._note(1, "", f"is UTF-16, not UTF-8; {SAVE_AS}")
            return True
        if b"\0" in raw:
            self._note(1, "", f"is no text in UTF-8; {SAVE_AS}")
            return True
        return False

    def _understand(self, number: int, text: str) -> Header | None:
        delimiter = ";" if ";" in text and "," not in text else ","
        if delimiter not in text and "\t" in text:
            self._note(number, "", "is divided by tabs; save it with commas or semicolons")
            return None
        names = [name.lower() for name in self._split(number, text, delimiter)]
        while names and not names[-1]:
            names.pop()
        before = len(self._problems)
        if names:
            self._check_names(number, names)
        elif '"' not in text:
            self._note(number, "", f"must name the columns: {','.join(self._layout.names)}")
        if not names or len(self._problems) > before:
            return None
        wanted = self._layout.names
        places = tuple(names.index(name) if name in names else -1 for name in wanted)
        return Header(delimiter, places, len(names))

    def _check_names(self, number: int, names: list[str]) -> None:
        wanted = self._layout.names
        if not set(names) & set(wanted):
            self._note(number, "", f"the first line must name the columns: {','.join(wanted)}")
            return
        for name in dict.fromkeys(names):
            if name not in wanted:
                known = ", ".join(wanted)
                self._note(number, shown(name), f"is not known; the columns are {known}")
            elif names.count(name) > 1:
                self._note(number, name, "stands in the header twice")
        for name in self._layout.needed:
            if name not in names:
                self._note(number, name, "is missing in the header")
