"""Dividing checked tables into rows for `import` events, groups never torn apart."""

from __future__ import annotations

from itertools import islice
from typing import TYPE_CHECKING

from lotkin.core.genealogy.circles import parents_first

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from lotkin.core.events.keeping.import_tables import ItemRow, LinkRow
    from lotkin.core.plain_tables.item_table import ItemTable
    from lotkin.core.plain_tables.link_table import LinkLine, LinkTable

__all__ = ["CHUNK", "chunks", "grouped_links"]

CHUNK = 2_000
"""Rows in one event; more only where a single group has more links."""

Chunk = tuple[list["ItemRow"], list["LinkRow"]]


def chunks(items: ItemTable, links: LinkTable, size: int = CHUNK) -> Iterator[Chunk]:
    """Divide tables into chunks: all items first, then all links.

    A group is known by its event and its number, so its links stay in one chunk; its number is
    unique among the groups of the child in all chunks. Links into an item come before links out
    of it, so that no event adds to what something was made from already.
    """
    rows = iter(items.rows.values())
    while some := list(islice(rows, size)):
        yield some, []
    groups: Iterable[list[LinkRow]]
    if any(link.group for link in links.rows):
        groups = grouped_links(links.rows)
    else:
        groups = _each_alone(links.rows)
    parents = {link.parent for link in links.rows}
    if not parents.isdisjoint(link.child for link in links.rows):
        order = parents_first([(link.parent, link.child) for link in links.rows])
        groups = sorted(groups, key=lambda group: order.get(group[0][1], 0))
    waiting: list[LinkRow] = []
    for group in groups:
        if waiting and len(waiting) + len(group) > size:
            yield [], waiting
            waiting = []
        waiting += group
    if waiting:
        yield [], waiting


def _each_alone(links: Iterable[LinkLine]) -> Iterator[list[LinkRow]]:
    """Yield links of which none has a group's name, each as a group, as `grouped_links` does."""
    numbers: dict[str, int] = {}
    for _, parent, child, quantity, _, mixing, per in links:
        number = numbers[child] = numbers.get(child, 0) + 1
        yield [(parent, child, quantity, number, mixing, per)]


def grouped_links(links: Iterable[LinkLine]) -> list[list[LinkRow]]:
    """Gather links by group, in order of first appearance; a link without one is alone.

    Groups of a child are numbered from 1 in that order.
    """
    numbers: dict[str, int] = {}
    named: dict[tuple[str, str], list[LinkRow]] = {}
    groups: list[list[LinkRow]] = []
    for _, parent, child, quantity, name, mixing, per in links:
        members = named.get((child, name)) if name else None
        if members is None:
            numbers[child] = numbers.get(child, 0) + 1
            members = []
            groups.append(members)
            if name:
                named[child, name] = members
            number = numbers[child]
        else:
            number = members[0][3]
        members.append((parent, child, quantity, number, mixing, per))
    return groups
