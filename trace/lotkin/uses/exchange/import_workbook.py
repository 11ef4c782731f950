"""Taking over the items and links of a shop's own spreadsheet, by a mapping of its columns."""

from __future__ import annotations

import csv
import re
import tempfile
from collections import Counter
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from lotkin.core.errors import BadFile, BadTables, did_you_mean
from lotkin.core.plain_tables import ITEM_COLUMNS, LINK_COLUMNS, Problem
from lotkin.core.plain_tables.workbook_mapping import Always
from lotkin.uses.exchange.import_tables import import_tables

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from lotkin.core.plain_tables.workbook_mapping import ItemsMap, LinksMap, WorkbookMap
    from lotkin.uses.exchange.import_ports import CanImport
    from lotkin.uses.exchange.import_tables import ImportReport
    from lotkin.uses.ports import Clock

    Sheets = Mapping[str, Sequence[Sequence[str]]]

__all__ = ["WorkbookReport", "import_workbook"]

ITEMS, LINKS = "items", "links"
LINE = re.compile(r"\bline ([0-9]+)")


@dataclass(frozen=True, slots=True)
class WorkbookReport:
    """What became of an import.

    Attributes:
        tables: As of the two plain tables that the sheets were turned into.
        kinds: How many items there are of each kind.
    """

    tables: ImportReport
    kinds: dict[str, int]


@dataclass(slots=True)
class _Table:
    """A plain table in the making, and which cell of the workbook each of its cells is from."""

    columns: tuple[str, ...]
    rows: list[list[str]] = field(default_factory=list)
    origins: list[tuple[str, int, dict[str, str]]] = field(default_factory=list)

    def write(self, path: Path) -> None:
        with path.open("w", encoding="utf-8", newline="") as file:
            writer = csv.writer(file, lineterminator="\n")
            writer.writerow(self.columns)
            writer.writerows(self.rows)


def import_workbook(
    store: CanImport,
    sheets: Sheets,
    mapping: WorkbookMap,
    who: tuple[str, datetime, Clock],
    *,
    dry_run: bool,
) -> WorkbookReport:
    """Take over items and links, all of them or none.

    Args:
        store: Where to, and what they are checked against.
        sheets: Name -> rows of texts.
        mapping: Which columns say what.
        who: Code of the person, when the import happens, and the clock.
        dry_run: Check only.

    Raises:
        BadTables: Rows are bad; all are listed by sheet, row and column.
        BadFile: The mapping names a sheet or column that there is none of.
        Circle: The links go in a circle.
    """
    problems: list[Problem] = []
    reader = _Reader(sheets, mapping, problems)
    tables = {
        ITEMS: _gather(ITEM_COLUMNS, (row for each in mapping.items for row in reader.items(each))),
        LINKS: _gather(LINK_COLUMNS, (row for each in mapping.links for row in reader.links(each))),
    }
    if problems:
        raise _listed(problems)
    by, at, clock = who
    with tempfile.TemporaryDirectory(prefix="lotkin-import-") as folder:
        paths = {name: Path(folder) / name for name in tables}
        for name, table in tables.items():
            table.write(paths[name])
        try:
            report = import_tables(
                store, paths[ITEMS], paths[LINKS], by=by, at=at, dry_run=dry_run, clock=clock
            )
        except BadTables as error:
            raise _listed([_placed(problem, tables) for problem in error.rows]) from error
    kinds = Counter(row[1] or "purchased-lot" for row in tables[ITEMS].rows)
    return WorkbookReport(report, dict(sorted(kinds.items())))


def _listed(problems: Sequence[Problem]) -> BadTables:
    ordered = sorted(problems, key=lambda problem: (problem.table, problem.line))
    names = ", ".join(dict.fromkeys(problem.table for problem in ordered))
    return BadTables(names, [_said(problem) for problem in ordered], ordered)


def _said(problem: Problem) -> str:
    row = f" row {problem.line}" if problem.line else ""
    column = f", column {problem.column}" if problem.column else ""
    return f"{problem.table}{row}{column}: {problem.reason}"


def _placed(problem: Problem, tables: Mapping[str, _Table]) -> Problem:
    """Say of a problem in a plain table where in the workbook it is."""
    table = tables.get(problem.table)
    if table is None or not 2 <= problem.line <= len(table.origins) + 1:
        return problem
    sheet, row, headers = table.origins[problem.line - 2]

    def place(found: re.Match[str]) -> str:
        line = int(found[1])
        if not 2 <= line <= len(table.origins) + 1:
            return found[0]
        there, number, _ = table.origins[line - 2]
        return f"row {number}" + (f" of {there}" if there != sheet else "")

    reason = LINE.sub(place, problem.reason)
    return Problem(sheet, row, headers.get(problem.column, problem.column), reason)


Row = tuple[list[str], tuple[str, int, dict[str, str]]]


def _gather(columns: tuple[str, ...], rows: Iterable[Row]) -> _Table:
    """Put rows together; a row that repeats an item alike is skipped."""
    table = _Table(columns)
    seen: dict[str, list[str]] = {}
    for cells, origin in rows:
        if columns is ITEM_COLUMNS:
            if cells[0] and seen.get(cells[0]) == cells:
                continue
            seen[cells[0]] = cells
        table.rows.append(cells)
        table.origins.append(origin)
    return table


class _Reader:
    """Reads rows of sheets by a mapping."""

    def __init__(self, sheets: Sheets, mapping: WorkbookMap, problems: list[Problem]) -> None:
        self._sheets, self._mapping, self._problems = sheets, mapping, problems
        self._words: dict[str, dict[str, str]] = mapping.words.model_dump()

    def items(self, wanted: ItemsMap) -> Iterator[Row]:
        """Yield the items of a sheet; rows without a code are skipped."""
        for cells, origin in self._rows(wanted, ITEM_COLUMNS):
            if cells[0]:
                yield cells, origin

    def links(self, wanted: LinksMap) -> Iterator[Row]:
        """Yield the links of a sheet, one for each parent in a cell."""
        for cells, origin in self._rows(wanted, LINK_COLUMNS):
            parents = cells[0].split(wanted.split) if wanted.split else [cells[0]]
            for parent in parents:
                if parent.strip() and cells[1]:
                    yield [self._code(parent.strip()), *cells[1:]], origin

    def _rows(self, wanted: ItemsMap | LinksMap, columns: tuple[str, ...]) -> Iterator[Row]:
        sheet, rows = self._sheet(wanted.sheet)
        header = list(rows[wanted.header - 1]) if len(rows) >= wanted.header else []
        places: dict[str, int] = {}
        headers: dict[str, str] = {}
        for column in columns:
            source = getattr(wanted, column)
            if isinstance(source, Always):
                continue
            if source not in header:
                hint = (
                    did_you_mean(source, header) or f"there are {', '.join(filter(None, header))}"
                )
                raise BadFile(f"sheet {sheet}", f"it has no column {source}", hint=hint)
            if header.count(source) > 1:
                raise BadFile(f"sheet {sheet}", f"it has several columns {source}")
            places[column], headers[column] = header.index(source), source
        always = {
            column: source.value
            for column in columns
            if isinstance(source := getattr(wanted, column), Always)
        }
        for number, row in enumerate(rows[wanted.header :], wanted.header + 1):
            texts = always | {
                column: row[at] if at < len(row) else "" for column, at in places.items()
            }
            origin = (sheet, number, headers)
            cells = [self._cell(column, texts[column], wanted, origin) for column in columns]
            yield cells, origin

    def _sheet(self, name: str) -> tuple[str, Sequence[Sequence[str]]]:
        if not name:
            return next(iter(self._sheets.items()), ("", []))
        if name not in self._sheets:
            hint = did_you_mean(name, self._sheets) or f"there are {', '.join(self._sheets)}"
            raise BadFile(f"sheet {name}", "there is no such sheet", hint=hint)
        return name, self._sheets[name]

    def _cell(
        self,
        column: str,
        text: str,
        wanted: ItemsMap | LinksMap,
        origin: tuple[str, int, dict[str, str]],
    ) -> str:
        text = text.strip()
        if column in ("code", "child"):
            return self._code(text)
        if column in self._words:
            return self._words[column].get(text, text)
        if column == "made_at" and text and wanted.date_format:
            try:
                return datetime.strptime(text, wanted.date_format).date().isoformat()  # noqa: DTZ007 - a day
            except ValueError:
                if not text[:4].isdecimal():
                    why = f"{text[:40]} is no day as {wanted.date_format} has it"
                    self._problems.append(Problem(origin[0], origin[1], origin[2][column], why))
        return text

    def _code(self, text: str) -> str:
        return text.replace(" ", self._mapping.spaces) if self._mapping.spaces else text
