"""Walking the links: level by level, each link fetched once, nothing computed on the way.

A recursive query would do the same walk and then the links would have to be fetched again by the
ids it found; see docs/decisions. Distances, paths and numbers are computed afterwards from what is
returned, never carried along.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from lotkin.core.exposure.reach import LinkColumns, NodeColumns, Reach
from lotkin.core.values.gc_paused import paused_collector
from lotkin.store.connection.statements import Ask, Lookup, columns, living
from lotkin.store.tables.records import MIXING_BY_NUMBER, NUMBER_OF_MIXING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.values.kinds import Mixing
    from lotkin.store.connection.database import Database

__all__ = ["Bounds", "Direction", "Reached", "TooManyError", "reach_from", "stock_of", "walk"]

Direction = Literal["down", "up"]

LINKED = ("parent", "child", "event", "grp", "mixing", "quantity", "per")
NODE = ("code", "kind", "part", "quantity", "unit", "serial")


class Bounds(NamedTuple):
    """What narrows a walk.

    Attributes:
        as_of: Journal position; None for now.
        first: Numbers to go on from instead of all direct neighbours of the starts.
        most: Links to fetch at most; None for any number.
    """

    as_of: int | None = None
    first: Sequence[int] | None = None
    most: int | None = None


NOTHING_NARROWS = Bounds()


class TooManyError(Exception):
    """A walk was to end here: there is more than was to be fetched."""


def walk(
    database: Database,
    starts: Sequence[int],
    direction: Direction,
    bounds: Bounds = NOTHING_NARROWS,
) -> tuple[list[int], list[Any]]:
    """Find all that links lead to from some items.

    Args:
        database: An open transaction.
        starts: Numbers of the items to begin with.
        direction: `down` to what was made of them, `up` to what they were made from.
        bounds: What narrows it.

    Raises:
        TooManyError: There are more.

    Returns:
        Numbers of all items reached, the starts first, and the rows (of `LINKED`) of all links
        passed, each once.

    Complexity: O(items + links reached), one statement a level.
    """
    as_of, first, most = bounds
    near, far = ("parent", 1) if direction == "down" else ("child", 0)
    links_of = Lookup(database, _links_by(near, as_of))
    found = list(dict.fromkeys(starts))
    begun, seen = set(found), set(found)
    allowed = None if first is None else set(first)
    links: list[Any] = []
    level = [*found]
    while level:
        rows = links_of.rows(level)
        if allowed is not None:
            rows = [row for row in rows if row[1 - far] not in begun or row[far] in allowed]
        links += rows
        if most is not None and len(links) > most:
            raise TooManyError
        level = list({row[far] for row in rows} - seen)
        seen.update(level)
        found += level
    return found, links


def _links_by(near: str, as_of: int | None) -> str:
    """Ask for the links at many items, at their ends `parent` or `child`."""
    then = living("link", LINKED, as_of)
    return f"SELECT {columns(LINKED)} FROM {then} AS link WHERE {near} IN ({{numbers}})"


class Reached(NamedTuple):
    """What a walk found.

    Attributes:
        reach: Items and links.
        position: Number of an item in the tables -> its position in the reach.
        stock: Rows of (item, spot, millionths) as of now; None for an earlier position.
    """

    reach: Reach
    position: dict[int, int]
    stock: Sequence[tuple[int, int, int]] | None


def reach_from(
    database: Database,
    starts: Sequence[int],
    direction: Direction,
    bounds: Bounds = NOTHING_NARROWS,
) -> Reached:
    """Walk, and fetch the items reached, the links between them, and what lies where."""
    with paused_collector():
        as_of = bounds.as_of
        numbers, rows = walk(database, starts, direction, bounds)
        nodes, stock = _nodes(database, numbers, as_of)
        fields = list(zip(*nodes, strict=True)) if nodes else [()] * (len(NODE) + 1)
        position = dict(zip(fields[0], range(len(nodes)), strict=True))
        if direction == "down":
            rows += _outside(database, rows, position, as_of)
        columns = NodeColumns(*fields[1 : len(NODE) + 1])
        links = _link_columns(database, rows, position, columns, as_of)
        there = [position[number] for number in starts if number in position]
        return Reached(Reach(columns, links, there), position, stock)


def _nodes(
    database: Database, numbers: list[int], as_of: int | None
) -> tuple[list[Any], list[tuple[int, int, int]] | None]:
    """Fetch items and, as of now, their stock beside them: one lookup an item less."""
    fields = ("id", *NODE)
    if as_of is not None:
        then = living("item", fields, as_of)
        query = f"SELECT {columns(fields)} FROM {then} AS item WHERE id IN ({{numbers}})"
        return Lookup(database, query).rows(numbers), None
    query = (
        f"SELECT {columns(fields, 'item')}, stock.spot, stock.quantity "
        "FROM item LEFT JOIN stock ON stock.item = item.id WHERE item.id IN ({numbers})"
    )
    rows = Lookup(database, query).rows(numbers)
    stock = [(row[0], row[-2], row[-1]) for row in rows if row[-1] is not None]
    if len(rows) > len(numbers):  # an item at several spots stands once for each
        rows = list({row[0]: row for row in rows}.values())
    return rows, stock


def stock_of(database: Database, numbers: list[int], *, is_much: bool) -> list[Any]:
    """Fetch (item, spot, millionths) of items; all there are and a few more if they are many."""
    query = "SELECT item, spot, quantity FROM stock"
    if not is_much:
        return Lookup(database, f"{query} WHERE item IN ({{numbers}})").rows(numbers)
    wanted = set(numbers)
    return [row for row in Ask(query).rows(database) if row[0] in wanted]


def _outside(
    database: Database, rows: Sequence[Any], position: dict[int, int], as_of: int | None
) -> list[Any]:
    """Fetch links from parents outside into the mixed groups that were reached; they weigh."""
    pure = {NUMBER_OF_MIXING[mixing] for mixing in PURE}
    mixed = {row[1] for row in rows if row[4] not in pure}
    if not mixed:
        return []
    groups = {(row[1], row[2], row[3]) for row in rows}
    return [
        row
        for row in Lookup(database, _links_by("child", as_of)).rows(sorted(mixed))
        if row[0] not in position and row[4] not in pure and (row[1], row[2], row[3]) in groups
    ]


def _link_columns(
    database: Database,
    rows: Sequence[Any],
    position: dict[int, int],
    nodes: NodeColumns,
    as_of: int | None,
) -> LinkColumns:
    if not rows:
        return LinkColumns([], [], [], [], [], [], [], [])
    parents, children, events, groups, mixings, quantities, pers = zip(*rows, strict=True)
    at = [position.get(number, -1) for number in parents]
    outside = {p for p, i in zip(parents, at, strict=True) if i < 0}
    units: dict[int, str] = {}
    if outside:
        then = living("item", ("id", "unit"), as_of)
        query = f"SELECT id, unit FROM {then} AS item WHERE id IN ({{numbers}})"
        units = dict(Lookup(database, query).rows(sorted(outside)))
    unit = nodes.unit
    return LinkColumns(
        at,
        [position[number] for number in children],
        events,
        groups,
        [MIXING_BY_NUMBER[number] for number in mixings],
        quantities,
        pers,
        [unit[i] if i >= 0 else units[p] for p, i in zip(parents, at, strict=True)],
    )


PURE: tuple[Mixing, ...] = (MIXING_BY_NUMBER[0], MIXING_BY_NUMBER[4])
"""Mixings in which other parents do not weigh."""
