"""The table of items: `code,kind,part,quantity,unit,made_at`."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from lotkin.core.kinds import FAMILY_OF, Family
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
from lotkin.core.quantities import is_whole

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.core.events.tables import ItemRow
    from lotkin.core.plain_tables.problems import Problem

__all__ = ["ITEM_COLUMNS", "ItemTable", "read_items"]

ITEM_COLUMNS = ("code", "kind", "part", "quantity", "unit", "made_at")

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
    for line, (code_text, kind_text, part_text, quantity_text, unit_text, made_at_text) in rows:
        reader.line = line
        code = read("code", parse_code, code_text)
        kind = read("kind", parse_kind, kind_text) or ""
        part = read("part", parse_part, part_text) or ""
        quantity = read("quantity", parse_quantity, quantity_text)
        unit = read("unit", parse_unit, unit_text)
        made_at = read("made_at", parse_moment, made_at_text)
        if unit == "" and (quantity_text or kind not in WITHOUT_UNIT):
            unit = "pcs"
        if unit == "pcs" and quantity is not None and not is_whole(quantity):
            reader.note("quantity", f"{quantity_text} pcs is not a whole number of pieces")
        if code is None:
            continue
        if code in table.lines:
            reader.note("code", f"{code} stands on line {table.lines[code]} already")
            continue
        table.lines[code] = line
        table.rows[code] = (code, kind, part, quantity, unit or "", made_at)
    table.is_readable = rows.is_readable
    return table
