"""Walking the links in SQL: ids first, by one plain recursion; all else is computed afterwards."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

from sqlalchemy import BigInteger, Column, Integer, MetaData, Table, insert, select, text

from lotkin.core.kinds import Mixing
from lotkin.core.reach import LinkColumns, NodeColumns, Reach
from lotkin.store.rows import ITEM, ITEM_PAST, LINK, LINK_PAST
from lotkin.store.stock_sums import living
from lotkin.store.tables import MIXING_BY_NUMBER, NUMBER_OF_MIXING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sqlalchemy import Connection, FromClause

__all__ = ["REACHED", "Direction", "reach_from", "walk"]

Direction = Literal["down", "up"]

TEMPORARY = MetaData()
Id = BigInteger().with_variant(Integer(), "sqlite")


def _ids(name: str) -> Table:
    key = Column("id", Id, primary_key=True, autoincrement=False)
    return Table(name, TEMPORARY, key, prefixes=["TEMPORARY"])


BEGINNING = _ids("beginning")
REACHED = _ids("reached")
"""Numbers of the items reached by the last walk of a connection."""


def walk(
    connection: Connection,
    starts: Sequence[int],
    direction: Direction,
    *,
    as_of: int | None = None,
    first: Sequence[int] | None = None,
) -> None:
    """Fill `reached` with the numbers of the starts and of all that links lead to from them.

    The recursion carries ids and nothing else: with a distance or a path in its rows it would
    visit an item once for every way that leads to it.

    Args:
        connection: An open connection.
        starts: Numbers of the items to begin with.
        direction: `down` to what was made of them, `up` to what they were made from.
        as_of: Journal position; None for now.
        first: Numbers to go on from instead of all direct neighbours of the starts.
    """
    for table in (BEGINNING, REACHED):
        connection.execute(text(f"DROP TABLE IF EXISTS {table.name}"))
        table.create(connection)
    link = living(LINK, LINK_PAST, as_of)
    near, far = (
        (link.c.parent, link.c.child) if direction == "down" else (link.c.child, link.c.parent)
    )
    begin = sorted(set(starts if first is None else first))
    if begin:
        connection.execute(insert(BEGINNING), [{"id": number} for number in begin])
    found = select(BEGINNING.c.id).cte("found", recursive=True)
    found = found.union(select(far).join(found, near == found.c.id))
    connection.execute(insert(REACHED).from_select(["id"], select(found.c.id)))
    if first is not None:
        known = {row[0] for row in connection.execute(select(REACHED.c.id))}
        rest = sorted(set(starts) - known)
        if rest:
            connection.execute(insert(REACHED), [{"id": number} for number in rest])


NODE = (
    "code",
    "kind",
    "part",
    "quantity",
    "unit",
    "made_at",
    "started_at",
    "serial",
    "supplier",
    "step",
    "event",
)


def reach_from(
    connection: Connection,
    starts: Sequence[int],
    direction: Direction,
    *,
    as_of: int | None = None,
    first: Sequence[int] | None = None,
) -> tuple[Reach, list[int]]:
    """Walk, and fetch the items reached with the links between them.

    Returns:
        The reach, and the numbers of its items in the order of its nodes.
    """
    walk(connection, starts, direction, as_of=as_of, first=first)
    item = living(ITEM, ITEM_PAST, as_of)
    rows = connection.execute(
        select(item.c.id, *(item.c[name] for name in NODE)).join(REACHED, REACHED.c.id == item.c.id)
    ).all()
    columns: list[Sequence[Any]] = list(zip(*rows, strict=True)) if rows else [()] * 12
    numbers = list(columns[0])
    position = {number: i for i, number in enumerate(numbers)}
    narrowing = None if first is None else (frozenset(starts), frozenset(first))
    nodes = NodeColumns(*columns[1:])
    links = _links(connection, position, nodes, as_of, narrowing)
    return Reach(nodes, links, [position[s] for s in starts if s in position]), numbers


def _links(
    connection: Connection,
    position: dict[int, int],
    nodes: NodeColumns,
    as_of: int | None,
    narrowing: tuple[frozenset[int], frozenset[int]] | None,
) -> LinkColumns:
    """Fetch the links between reached items, and the outside parents of their mixed groups."""
    link = living(LINK, LINK_PAST, as_of)
    columns = [link.c[n] for n in ("parent", "child", "event", "grp", "mixing", "quantity", "per")]
    rows = connection.execute(select(*columns).join(REACHED, REACHED.c.id == link.c.parent)).all()
    rows = [row for row in rows if row[1] in position]
    if narrowing is not None:
        starts, first = narrowing
        rows = [row for row in rows if row[0] not in starts or row[1] in first]
    rows += _outside(connection, link, columns)
    if not rows:
        return LinkColumns([], [], [], [], [], [], [], [])
    parents, children, events, groups, mixings, quantities, pers = zip(*rows, strict=True)
    at = [position.get(number, -1) for number in parents]
    unit = nodes.unit
    units = _units(connection, [p for p, i in zip(parents, at, strict=True) if i < 0], as_of)
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


def _outside(connection: Connection, link: FromClause, columns: list[Any]) -> list[Any]:
    mixed = [NUMBER_OF_MIXING[m] for m in (Mixing.ONE_OF, Mixing.EITHER, Mixing.BLEND)]
    query = (
        select(*columns)
        .join(REACHED, REACHED.c.id == link.c.child)
        .where(link.c.mixing.in_(mixed), link.c.parent.not_in(select(REACHED.c.id)))
    )
    return list(connection.execute(query).all())


def _units(connection: Connection, numbers: Sequence[int], as_of: int | None) -> dict[int, str]:
    item = living(ITEM, ITEM_PAST, as_of)
    units: dict[int, str] = {}
    wanted = sorted(set(numbers))
    for start in range(0, len(wanted), 500):
        query = select(item.c.id, item.c.unit).where(item.c.id.in_(wanted[start : start + 500]))
        units.update({row[0]: row[1] for row in connection.execute(query)})
    return units
