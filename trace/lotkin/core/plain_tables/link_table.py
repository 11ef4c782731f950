"""The table of links: `parent,child,quantity,group,mixing,per`, the last three optional."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.plain_tables.cells import (
    CellReader,
    parse_code,
    parse_group,
    parse_mixing,
    parse_per,
    parse_quantity,
)
from lotkin.core.plain_tables.problems import shown
from lotkin.core.plain_tables.rows import Layout, Rows

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from lotkin.core.kinds import Mixing
    from lotkin.core.plain_tables.item_table import ItemTable
    from lotkin.core.plain_tables.problems import Problem

__all__ = ["LINK_COLUMNS", "LinkLine", "LinkTable", "read_links"]

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
    read = reader.read
    repeats, keep = _Repeats(reader), table.rows.append
    known = items.rows
    # the cells behind the codes are mostly those of many other lines
    understood: dict[tuple[str, ...], tuple[int | None, str, Mixing, int]] = {}
    for line, cells in Rows(name, lines, Layout(NEEDED, OPTIONAL), problems):
        reader.line = line
        before = len(problems)
        parent: str | None = cells[0]
        child: str | None = cells[1]
        # Codes are shared with the items, which saves most of the memory that links take.
        if (row := known.get(cells[0])) is not None:
            parent = row[0]
        else:
            parent = read("parent", parse_code, cells[0])
        if (row := known.get(cells[1])) is not None:
            child = row[0]
        else:
            child = read("child", parse_code, cells[1])
        others = tuple(cells[2:])
        said = understood.get(others)
        if said is None:
            said = _read_others(reader, cells)
            if said is not None and len(understood) < MANY:
                understood[others] = said
        if parent and parent == child:
            reader.note("child", f"{child} is its own parent")
        if len(problems) > before:
            continue
        assert parent and child and said  # noqa: PT018
        link = LinkLine(line, parent, child, *said)
        if repeats.are_none(link):
            keep(link)
    return table


def _read_others(
    reader: CellReader, cells: Sequence[str]
) -> tuple[int | None, str, Mixing, int] | None:
    """Read quantity, group, mixing and per; None, with the problems noted, if one is bad."""
    before = len(reader.problems)
    quantity = reader.read("quantity", parse_quantity, cells[2])
    group = reader.read("group", parse_group, cells[3])
    mixing = reader.read("mixing", parse_mixing, cells[4])
    per = reader.read("per", parse_per, cells[5])
    if len(reader.problems) > before:
        return None
    assert group is not None and mixing and per  # noqa: PT018
    return quantity, group, mixing, per


class _Repeats:
    """Finds links that stand there twice, and groups that are said to be mixed in two ways."""

    def __init__(self, reader: CellReader) -> None:
        self._reader = reader
        self._lines: dict[tuple[str, str, str], int] = {}
        self._groups: dict[tuple[str, str], LinkLine] = {}

    def are_none(self, link: LinkLine) -> bool:
        """Tell whether a link fits those before it; note what does not."""
        first = self._lines.setdefault((link.parent, link.child, link.group), link.line)
        if first != link.line:
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
            self._reader.note(
                "mixing",
                f"{link.mixing}, but group {shown(link.group)} of {link.child} "
                f"is {other.mixing} on line {other.line}",
            )
            return False
        return True
