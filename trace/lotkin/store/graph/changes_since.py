"""What the tables say otherwise than the copy of the graph: what came since, and corrections."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from lotkin.store.connection.statements import Ask, Lookup, columns

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from lotkin.store.connection.database import Database

__all__ = [
    "ITEM_NUMBERS",
    "LINK_FIELDS",
    "LINK_NUMBERS",
    "NODE_TEXTS",
    "NONE",
    "Newer",
    "newer_than",
]

NONE = -1
"""Stands for a quantity that is not known; a known one is never below zero."""

LINK_FIELDS = ("parent", "child", "event", "grp", "mixing", "quantity", "per")
NODE_TEXTS = ("kind", "part", "unit", "serial")

LINK_NUMBERS = (
    f"SELECT {columns(LINK_FIELDS[:5])}, coalesce(quantity, {NONE}) AS quantity, per FROM link"
)
"""Asks for the fields of links, all of them numbers."""

ITEM_NUMBERS = f"SELECT id, code, {columns(NODE_TEXTS)}, coalesce(quantity, {NONE}) FROM item"

CHANGED = Ask("SELECT DISTINCT item FROM graph_change WHERE seq > :seq")
# DISTINCT would make SQLite read an index by child from end to end
NEW_CHILDREN = Ask("SELECT child FROM link WHERE event > :seq")
NEW_ITEMS = Ask(f"{ITEM_NUMBERS} WHERE id >= :size")


class Newer(NamedTuple):
    """What the tables say otherwise than the file.

    Attributes:
        size: One more than the highest number of an item.
        children: Numbers of items whose links from above are to be those of `links`, in order.
        links: Rows of `LINK_FIELDS`, in order of child, event, group and parent.
        items: Number -> (code, kind, part, unit, serial, quantity) of items new or changed.
    """

    size: int
    children: Sequence[int]
    links: Sequence[Sequence[int]]
    items: Mapping[int, Sequence[Any]]


def newer_than(database: Database, seq: int, size: int) -> Newer:
    """Read what is newer than a copy.

    Args:
        database: An open transaction.
        seq: Number of the event that the copy is of.
        size: One more than the highest number of an item in it.
    """
    changed = [int(row[0]) for row in CHANGED.rows(database, seq=seq)]
    new_children = NEW_CHILDREN.rows(database, seq=seq)
    children = sorted({*changed, *(int(row[0]) for row in new_children)})
    links = Lookup(database, f"{LINK_NUMBERS} WHERE child IN ({{numbers}})").rows(children)
    links.sort(key=_in_order)
    found = NEW_ITEMS.rows(database, size=size)
    beneath = [n for n in changed if n < size]
    found += Lookup(database, f"{ITEM_NUMBERS} WHERE id IN ({{numbers}})").rows(beneath)
    items = {row[0]: tuple(row[1:]) for row in found}
    gone = [n for n in beneath if n not in items]
    items |= dict.fromkeys(gone, ("", "", "", "", "", NONE))
    top = max([size, *(n + 1 for n in items), *(n + 1 for n in children)])
    return Newer(top, children, links, items)


def _in_order(link: Sequence[int]) -> tuple[int, int, int, int]:
    parent, child, event, group = link[:4]
    return child, event, group, parent
