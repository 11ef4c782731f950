"""The table of links: `parent,child,quantity,group,mixing,per`, the last three optional."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.errors.problems import shown
from lotkin.core.plain_tables.cells import (
    CellReader,
    parse_code,
    parse_group,
    parse_mixing,
    parse_per,
    parse_quantity,
)
from lotkin.core.plain_tables.rows import Layout, Rows

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from lotkin.core.errors.problems import Problem
    from lotkin.core.events.keeping.import_tables import ItemRow
    from lotkin.core.plain_tables.item_table import ItemTable
    from lotkin.core.values.kinds import Mixing

__all__ = ["LINK_COLUMNS", "LinkLine", "LinkTable", "read_links"]

Others = tuple["int | None", str, "Mixing", int]
"""Quantity, group, mixing and per."""

MANY = 4096
"""Different rows of cells that are kept in mind."""

NEEDED = ("parent", "child", "quantity")
OPTIONAL = ("group", "mixing", "per")
LINK_COLUMNS = NEEDED + OPTIONAL


class LinkLine(NamedTuple):
    """One good row: the line, the two codes, millionths taken, group "" for one of its own."""

    line: int
    parent: str
    child: str
    quantity: int | None
    group: str
    mixing: Mixing
    per: int


@dataclass(slots=True)
class LinkTable:
    """What a table of links says: its good rows in order of the file."""

    name: str
    rows: list[LinkLine] = field(default_factory=list)


def read_links(
    name: str, lines: Iterable[bytes], items: ItemTable, problems: list[Problem]
) -> LinkTable:
    """Read a table of links; whether the codes are known is not asked yet.

    Args:
        name: Name of the file, for messages.
        lines: Its raw lines, line ends included.
        items: The items that come with it; their codes need no second look.
        problems: Receives what is wrong, in order of the lines.
    """
    table = LinkTable(name)
    reader = CellReader(name, problems)
    repeats, keep = _Repeats(reader, table.rows), table.rows.append
    is_new, make = repeats.is_new, partial(tuple.__new__, LinkLine)
    known = items.rows
    # the cells behind the codes are mostly those of many other lines
    understood: dict[tuple[str, ...], Others] = {}
    for line, cells in Rows(name, lines, Layout(NEEDED, OPTIONAL), problems):
        above, below, *others = cells
        # Codes are shared with the items, which saves most of the memory that links take.
        parent_row, child_row = known.get(above), known.get(below)
        said = understood.get(tuple(others))
        if parent_row is None or child_row is None or said is None or above == below:
            reader.line = line
            read = _read_closely(reader, cells, parent_row, child_row)
            if read is None:
                continue
            parent, child, said = read
            if len(understood) < MANY:
                understood[tuple(others)] = said
        else:
            parent, child = parent_row[0], child_row[0]
        link: LinkLine = make((line, parent, child, *said))
        if (not said[1] and is_new(parent, child)) or repeats.are_none(link):
            keep(link)
    return table


def _read_closely(
    reader: CellReader,
    cells: Sequence[str],
    parent_row: ItemRow | None,
    child_row: ItemRow | None,
) -> tuple[str, str, Others] | None:
    """Read a row of cells one by one; None, with the problems noted, if one is bad."""
    before = len(reader.problems)
    read = reader.read
    parent = read("parent", parse_code, cells[0]) if parent_row is None else parent_row[0]
    child = read("child", parse_code, cells[1]) if child_row is None else child_row[0]
    quantity = read("quantity", parse_quantity, cells[2])
    group = read("group", parse_group, cells[3])
    mixing = read("mixing", parse_mixing, cells[4])
    per = read("per", parse_per, cells[5])
    if parent and parent == child:
        reader.note("child", f"{child} is its own parent")
    if len(reader.problems) > before:
        return None
    assert parent and child and group is not None and mixing and per  # noqa: PT018
    return parent, child, (quantity, group, mixing, per)


class _Repeats:
    """Finds links that stand there twice, and groups that are said to be mixed in two ways."""

    def __init__(self, reader: CellReader, rows: Sequence[LinkLine]) -> None:
        """Take the rows that were good so far, which grow from outside."""
        self._reader, self._rows = reader, rows
        self._marks: set[int] = set()
        self._lines: dict[tuple[str, str, str], int] | None = None
        self._groups: dict[tuple[str, str], LinkLine] = {}

    def is_new(self, parent: str, child: str) -> bool:
        """Tell that a link without a group stands here first; False where that is not sure."""
        mark = hash((parent, child, ""))
        if self._lines is not None or mark in self._marks:
            return False
        self._marks.add(mark)
        return True

    def _first_line(self, link: LinkLine) -> int:
        """Give the line on which a link stands first.

        Until one may stand there twice, only a number is kept of each: that of its hash.
        """
        named = (link.parent, link.child, link.group)
        if self._lines is None:
            mark = hash(named)
            if mark not in self._marks:
                self._marks.add(mark)
                return link.line
            self._lines = {(row.parent, row.child, row.group): row.line for row in self._rows}
        return self._lines.setdefault(named, link.line)

    def are_none(self, link: LinkLine) -> bool:
        """Tell whether a link fits those before it; note what does not."""
        first = self._first_line(link)
        if first != link.line:
            self._reader.line = link.line
            named = f" in group {shown(link.group)}" if link.group else ""
            advice = "" if link.group else "; name a group in each if both are meant"
            self._reader.note(
                "child",
                f"{link.parent} to {link.child}{named} stands on line {first} already{advice}",
            )
            return False
        if not link.group:
            return True
        other = self._groups.setdefault((link.child, link.group), link)
        if other.mixing is not link.mixing:
            self._reader.line = link.line
            self._reader.note(
                "mixing",
                f"{link.mixing}, but group {shown(link.group)} of {link.child} "
                f"is {other.mixing} on line {other.line}",
            )
            return False
        return True
