"""Summing stock from movements, and from what bench setups took for units."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sqlalchemy import BigInteger, cast, func, insert, or_, select

from lotkin.core.places import End
from lotkin.core.quantities import MICRO
from lotkin.store.rows import ITEM, ITEM_PAST, LINK, LINK_PAST, MOVEMENT, MOVEMENT_PAST, SPOT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sqlalchemy import ColumnElement, Connection, FromClause, Table

__all__ = ["living", "stock_sums", "total"]

CHUNK = 500


def total(column: ColumnElement[int]) -> ColumnElement[int]:
    """Sum a column; PostgreSQL would make a decimal number of it."""
    return cast(func.sum(column), BigInteger)


def living(table: Table, past: Table, as_of: int | None) -> FromClause:
    """Give the rows of a table that held at a journal position; None for now."""
    if as_of is None:
        return table
    names = [column.name for column in table.columns if column.name != "number"]
    now = select(*(table.c[name] for name in names)).where(table.c.since <= as_of)
    then = select(*(past.c[name] for name in names)).where(
        past.c.since <= as_of, past.c.until > as_of
    )
    return now.union_all(then).subquery()


def stock_sums(
    connection: Connection, items: Sequence[int], as_of: int | None = None
) -> dict[int, dict[int, int]]:
    """Sum what lies where.

    Args:
        connection: An open connection.
        items: Numbers of the items asked about.
        as_of: Journal position; None for now.

    Returns:
        item -> spot -> millionths, zeros left in.
    """
    sums: dict[int, dict[int, int]] = {}

    def add(item: int, spot: int, quantity: int) -> None:
        of_item = sums.setdefault(item, {})
        of_item[spot] = of_item.get(spot, 0) + quantity

    movement = living(MOVEMENT, MOVEMENT_PAST, as_of)
    for start in range(0, len(items), CHUNK):
        some = list(items[start : start + CHUNK])
        rows = connection.execute(
            select(
                movement.c.item,
                movement.c.origin,
                movement.c.destination,
                total(movement.c.quantity),
            )
            .where(movement.c.item.in_(some))
            .group_by(movement.c.item, movement.c.origin, movement.c.destination)
        )
        for item, origin, destination, quantity in rows:
            if origin is not None:
                add(item, origin, -int(quantity))
            add(item, destination, int(quantity))
        for item, station, quantity in _taken_by_setups(connection, some, as_of):
            add(item, _spot(connection, station), -quantity)
            add(item, _spot(connection, End.USED_IN), quantity)
    return sums


def _taken_by_setups(
    connection: Connection, items: Sequence[int], as_of: int | None
) -> list[tuple[int, str, int]]:
    """List (lot, station, millionths) that first states of units took through bench setups."""
    lots, units = living(LINK, LINK_PAST, as_of), living(LINK, LINK_PAST, as_of)
    lots, units = lots.alias("lots"), units.alias("units")
    setup = living(ITEM, ITEM_PAST, as_of).alias("setup")
    unit = living(ITEM, ITEM_PAST, as_of).alias("unit")
    rows = connection.execute(
        select(lots.c.parent, setup.c.station, lots.c.per, total(units.c.quantity))
        .join(setup, setup.c.id == lots.c.child)
        .join(units, units.c.parent == setup.c.id)
        .join(unit, unit.c.id == units.c.child)
        .where(
            lots.c.parent.in_(list(items)),
            setup.c.kind == "bench-setup",
            unit.c.kind == "unit",
            or_(unit.c.serial == unit.c.code, unit.c.serial == ""),
            units.c.quantity.is_not(None),
        )
        .group_by(lots.c.parent, setup.c.id, setup.c.station, lots.c.per, lots.c.position)
    )
    return [(row[0], row[1], int(row[2]) * int(row[3]) // MICRO) for row in rows]


def _spot(connection: Connection, place: str) -> int:
    """Give the number of the open spot of a place."""
    rows = connection.execute(
        select(SPOT.c.id).where(SPOT.c.place == str(place), SPOT.c.within == "")
    ).all()
    if rows:
        return int(rows[0][0])
    number = int(connection.execute(select(func.coalesce(func.max(SPOT.c.id), 0))).scalar_one()) + 1
    connection.execute(insert(SPOT).values(id=number, place=str(place), within=""))
    return number
