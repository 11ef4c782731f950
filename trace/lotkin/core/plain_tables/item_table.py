"""The table of items: `code,kind,part,quantity,unit,made_at`."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from lotkin.core.plain_tables.cells import (
    CellReader,
    parse_code,
    parse_kind,
    parse_moment,
    parse_part,
    parse_quantity,
    parse_unit,
)
from lotkin.core.plain_tables.rows import Layout, Rows
from lotkin.core.values.kinds import FAMILY_OF, Family
from lotkin.core.values.quantities import is_whole

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from lotkin.core.errors.problems import Problem
    from lotkin.core.events.keeping.import_tables import ItemRow

__all__ = ["ITEM_COLUMNS", "ItemTable", "read_items"]

ITEM_COLUMNS = ("code", "kind", "part", "quantity", "unit", "made_at")

What = tuple[str, str, "int | None", str]
"""Kind, part, quantity and unit."""

MANY = 4096
"""Different rows of cells that are kept in mind."""

WITHOUT_UNIT = frozenset(
    {"heat", "source-lot", "bench-setup"}
    | {kind for kind, family in FAMILY_OF.items() if family is not Family.MATERIAL}
)
"""Kinds whose unit means nothing as long as they have no quantity."""


@dataclass(slots=True)
class ItemTable:
    """What a table of items says.

    Attributes:
        name: Name of the file; "" if there is none.
        is_readable: False if its header was not understood, so that nothing of it is known.
        rows: n rows by code, in order of the file, as the `import` event keeps them.
        lines: Line of each code.
    """

    name: str
    is_readable: bool = True
    rows: dict[str, ItemRow] = field(default_factory=dict)
    lines: dict[str, int] = field(default_factory=dict)


def read_items(name: str, lines: Iterable[bytes], problems: list[Problem]) -> ItemTable:
    """Read a table of items.

    Args:
        name: Name of the file, for messages.
        lines: Its raw lines, line ends included.
        problems: Receives what is wrong, in order of the lines.

    Returns:
        All rows that have a code, whatever else is wrong with them, so that links to them are
        not called unknown.
    """
    rows = Rows(name, lines, Layout(ITEM_COLUMNS), problems)
    table = ItemTable(name)
    reader = CellReader(name, problems)
    read = reader.read
    # what stands behind the code, but for the moment, is mostly that of many other lines
    understood: dict[tuple[str, ...], What] = {}
    for line, cells in rows:
        reader.line = line
        code = read("code", parse_code, cells[0])
        what = understood.get(tuple(cells[1:5]))
        if what is None:
            before = len(problems)
            what = _read_what(reader, cells)
            if len(problems) == before and len(understood) < MANY:
                understood[tuple(cells[1:5])] = what
        kind, part, quantity, unit = what
        made_at = read("made_at", parse_moment, cells[5])
        if code is None:
            continue
        if code in table.lines:
            reader.note("code", f"{code} stands on line {table.lines[code]} already")
            continue
        table.lines[code] = line
        table.rows[code] = (code, kind, part, quantity, unit, made_at)
    table.is_readable = rows.is_readable
    return table


def _read_what(reader: CellReader, cells: Sequence[str]) -> What:
    """Read kind, part, quantity and unit; what is wrong is noted."""
    read = reader.read
    kind = read("kind", parse_kind, cells[1]) or ""
    part = read("part", parse_part, cells[2]) or ""
    quantity = read("quantity", parse_quantity, cells[3])
    unit = read("unit", parse_unit, cells[4])
    if unit == "" and (cells[3] or kind not in WITHOUT_UNIT):
        unit = "pcs"
    if unit == "pcs" and quantity is not None and not is_whole(quantity):
        reader.note("quantity", f"{cells[3]} pcs is not a whole number of pieces")
    return kind, part, quantity, unit or ""
