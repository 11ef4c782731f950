"""Tables of values by symbol: headings above, symbols in front, or pairs within a line."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from lotkin.core.certificates.cells import Cell, cell_of, is_scale, is_unit
from lotkin.core.certificates.columns import align, nearest, stands_firmly
from lotkin.core.certificates.symbols_in_line import (
    Reader,
    is_heading,
    is_within,
    parted,
    symbols_of,
)
from lotkin.core.certificates.words import Word

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from decimal import Decimal

    from lotkin.core.certificates.words import Line

__all__ = ["Row", "read_rows"]

MOST_ROWS = 40
SCALED = "its numbers stand multiplied or in another unit"
UNCLEAR = "its columns are not clear"
UNNAMED = "several rows stand there and none says what it is: results, or limits"
LIMIT = re.compile(
    r"\b(?:min|max|minimum|maximum|mini|maxi|minimo|massimo|mínimo|máximo|nejméně|nejvýše|limit[eis]?|"
    r"soglia|spec(?:ification)?|soll\w*|norm\w*|required|requirements?|"
    r"nominal|from|to|von|bis)\b",
    re.IGNORECASE,
)
RESULT = re.compile(
    r"\b(?:actual|ist\w*|results?|values?|wert|found|measured|analysis|heat|cast|ladle)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Row:
    """Values that belong together.

    Attributes:
        label: What stands in front of them; "" for nothing.
        values: By symbol.
        line: The line as it was read; that of the first value.
        problem: Why no values could be taken from it; "" if they could.
        column: What stands above the labels; "" for nothing.
    """

    label: str
    values: Mapping[str, Decimal] = field(default_factory=dict)
    line: str = ""
    problem: str = ""
    column: str = ""

    @property
    def is_limit(self) -> bool:
        """Tell whether it says what is allowed, not what was found."""
        return LIMIT.search(self.label) is not None


def read_rows(lines: Sequence[Line], reader: Reader) -> list[Row]:
    """Read all rows of values, rows of limits included, in the order of the text."""
    rows: list[Row] = []
    at = 0
    while at < len(lines) and len(rows) < MOST_ROWS:
        line = lines[at]
        found = symbols_of(line, reader)
        if is_heading(line, found, reader):
            taken, read = _below(lines, at, found, reader)
        elif len(pairs := _pairs(line, reader)) >= reader.least_pairs and len(pairs) == len(found):
            taken, read = 1, [_of_pairs(line, pairs, reader)]
        else:
            taken, read = _listed(lines, at, reader)
        rows += read
        at += max(1, taken)
    return rows


# --- headings above


def _below(
    lines: Sequence[Line], at: int, found: Sequence[tuple[str, Word]], reader: Reader
) -> tuple[int, list[Row]]:
    """Read the rows below a heading; give how many lines that were, the heading included."""
    headings = [heading for _, heading in found]
    rows: list[Row] = []
    scaled, taken = is_scale(lines[at].text), 1
    for line in lines[at + 1 : at + 1 + MOST_ROWS]:
        if line.page != lines[at].page or is_heading(line, symbols_of(line, reader), reader):
            break
        label, cells = _split(line, headings)
        is_row = any(cell.value is not None or cell.is_limit for cell in cells)
        if not is_row and not (taken == 1 or is_scale(line.text) or _is_of_units(line)):
            break
        scaled = scaled or is_scale(line.text)
        if is_row:
            rows.append(_row(label, cells, [symbol for symbol, _ in found], headings))
        taken += 1
    if scaled:
        rows = [Row("", line=lines[at].text, problem=SCALED)]
    column = " ".join(w.text for w in lines[at].words if w.right <= headings[0].left)
    rows = [replace(_checked(row, reader), column=column) for row in rows]
    return taken, _named(rows)


def _named(rows: Sequence[Row]) -> list[Row]:
    """Refuse rows without labels that say different things: some of them may be limits."""
    bare = [row for row in rows if not row.label and row.values]
    if all(row.values == bare[0].values for row in bare):
        return list(rows)
    refused = Row("", line=bare[0].line, problem=UNNAMED)
    return [*(row for row in rows if row not in bare), refused]


def _split(line: Line, headings: Sequence[Word]) -> tuple[str, list[Cell]]:
    """Part a line into the label in front and the cells; no cells if text stands among them."""
    gaps = [right.middle - left.middle for left, right in pairwise(headings)]
    edge = headings[0].middle - gaps[0] * 0.5
    words = parted(line)
    label = [word for word in words if word.middle < edge]
    inside = [word for word in words[len(label) :] if not is_unit(word.text)]
    if len(inside) > len(headings):
        end = headings[-1].middle + gaps[-1] * 0.75
        inside = [word for word in inside if word.middle < end]
    cells = [cell for word in inside if (cell := cell_of(word)) is not None]
    is_table = len(cells) == len(inside)
    return " ".join(word.text for word in label), cells if is_table else []


def _row(
    label: str, cells: Sequence[Cell], symbols: Sequence[str], headings: Sequence[Word]
) -> Row:
    text = " ".join([label, *(cell.word.text for cell in cells)]).strip()
    if any(cell.is_limit for cell in cells):
        return Row(f"{label} limits", line=text)
    places = align(headings, [cell.word for cell in cells])
    words = [cell.word for cell in cells]
    if places is None or (_ends_with_value(label) and not stands_firmly(headings, words, places)):
        return Row(label, line=text, problem=UNCLEAR)
    values = {
        symbols[place]: cell.value
        for place, cell in zip(places, cells, strict=True)
        if cell.value is not None
    }
    return Row(label, values, line=text)


def _ends_with_value(label: str) -> bool:
    """Tell whether what stands in front may be the first value, of columns that are shifted."""
    last = label.split()[-1:]
    cell = cell_of(Word(last[0], 0, 0)) if last else None
    return cell is not None and cell.value is not None


def _is_of_units(line: Line) -> bool:
    return all(is_unit(word.text) for word in line.words)


def _checked(row: Row, reader: Reader) -> Row:
    too_large = [symbol for symbol, value in row.values.items() if value > reader.largest]
    if too_large and not row.is_limit:
        why = f"{too_large[0]} {row.values[too_large[0]]} cannot be"
        return Row(row.label, line=row.line, problem=why)
    zero = [symbol for symbol, value in row.values.items() if not value]
    if zero and not reader.takes_zero and not row.is_limit:
        return Row(row.label, line=row.line, problem=f"{zero[0]} 0 cannot be")
    return row


# --- symbols in front, one a line


def _listed(lines: Sequence[Line], at: int, reader: Reader) -> tuple[int, list[Row]]:
    """Read lines that each begin with a symbol; give how many there are."""
    values: dict[str, Decimal] = {}
    problem, taken = "", 0
    columns = lines[at - 1] if at else None
    scaled = columns is not None and is_scale(columns.text)
    for line in lines[at : at + MOST_ROWS]:
        found = symbols_of(line, reader)
        words = parted(line)
        cells = [cell for word in words if (cell := cell_of(word)) and not is_within(word, found)]
        if line.page != lines[at].page or len(found) != 1 or not cells or found[0][0] in values:
            break
        scaled = scaled or is_scale(line.text)
        value = _result(cells, columns)
        if value is None and any(cell.value is not None for cell in cells):
            problem = UNCLEAR
        if value is not None:
            values[found[0][0]] = value
        taken += 1
    if taken < reader.least:
        return 0, []
    problem = SCALED if scaled else problem
    row = Row("", {} if problem else values, line=lines[at].text, problem=problem)
    return taken, [_checked(row, reader)]


def _result(cells: Sequence[Cell], columns: Line | None) -> Decimal | None:
    """Choose the cell that is the result: under such a heading, else the only one there is."""
    valued = [cell for cell in cells if cell.value is not None]
    if columns is not None and len(valued) > 1:
        results = [word for word in columns.words if RESULT.search(word.text)]
        limits = [word for word in columns.words if LIMIT.search(word.text)]
        names = sorted([*results, *limits], key=lambda word: word.left)
        places = align(names, [cell.word for cell in cells]) if names else None
        if places is not None:
            under = [c for c, p in zip(cells, places, strict=True) if names[p] in results]
            valued = [cell for cell in under if cell.value is not None]
        elif results:
            at, _ = nearest([cell.word.middle for cell in cells], results[-1].middle)
            valued = [cells[at]]
    return valued[0].value if len(valued) == 1 else None


# --- pairs within a line


def _pairs(line: Line, reader: Reader) -> dict[str, Decimal]:
    """Read `C 0.08 Si 0.02`: symbols that are each followed by one value."""
    found = symbols_of(line, reader)
    words = parted(line)
    pairs: dict[str, Decimal] = {}
    for number, (symbol, heading) in enumerate(found):
        end = found[number + 1][1].left if number + 1 < len(found) else float("inf")
        after = [w for w in words if heading.right <= w.left < end and not is_unit(w.text)]
        cells = [cell for word in after if (cell := cell_of(word)) is not None]
        valued = [cell for cell in cells if cell.value is not None]
        if len(valued) == 1 and not any(LIMIT.search(word.text) for word in after):
            assert valued[0].value is not None
            pairs.setdefault(symbol, valued[0].value)
    return pairs


def _of_pairs(line: Line, pairs: Mapping[str, Decimal], reader: Reader) -> Row:
    if is_scale(line.text):
        return Row("", line=line.text, problem=SCALED)
    return _checked(Row("", pairs, line=line.text), reader)
