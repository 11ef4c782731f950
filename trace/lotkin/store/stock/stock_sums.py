"""Summing stock from movements, and from what bench setups took for units."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.places import End
from lotkin.core.values.quantities import MICRO
from lotkin.store.connection.bulk import put_rows
from lotkin.store.connection.statements import Ask, Lookup, living
from lotkin.store.schema import spot_row

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.store.connection.database import Database

__all__ = ["stock_sums"]

MOVED = ("item", "origin", "destination", "quantity")
LINKED = ("parent", "child", "quantity", "per", "position")
ITEM = ("id", "code", "kind", "serial", "station")

OPEN_SPOT = Ask("SELECT id FROM spot WHERE place = :place AND within = ''")
HIGHEST_SPOT = Ask("SELECT max(id) FROM spot")


def stock_sums(
    database: Database, items: Sequence[int], as_of: int | None = None
) -> dict[int, dict[int, int]]:
    """Sum what lies where.

    Args:
        database: An open transaction.
        items: Numbers of the items asked about.
        as_of: Journal position; None for now.

    Returns:
        item -> spot -> millionths, zeros left in.
    """
    sums: dict[int, dict[int, int]] = {}

    def add(item: int, spot: int, quantity: int) -> None:
        of_item = sums.setdefault(item, {})
        of_item[spot] = of_item.get(spot, 0) + quantity

    # PostgreSQL would make a decimal number of a sum
    moves = (
        "SELECT item, origin, destination, CAST(sum(quantity) AS BIGINT) "
        f"FROM {living('movement', MOVED, as_of)} AS movement WHERE item IN ({{numbers}}) "
        "GROUP BY item, origin, destination"
    )
    for item, origin, destination, quantity in Lookup(database, moves).rows(items):
        if origin is not None:
            add(item, origin, -int(quantity))
        add(item, destination, int(quantity))
    spots: dict[str, int] = {}
    for item, station, quantity in _taken_by_setups(database, items, as_of):
        for place, amount in ((station, -quantity), (str(End.USED_IN), quantity)):
            if place not in spots:
                spots[place] = _spot(database, place)
            add(item, spots[place], amount)
    return sums


def _taken_by_setups(
    database: Database, items: Sequence[int], as_of: int | None
) -> list[tuple[int, str, int]]:
    """List (lot, station, millionths) that first states of units took through bench setups."""
    links, nodes = living("link", LINKED, as_of), living("item", ITEM, as_of)
    taken = (
        "SELECT lots.parent, setup.station, lots.per, CAST(sum(units.quantity) AS BIGINT) "
        f"FROM {links} AS lots JOIN {nodes} AS setup ON setup.id = lots.child "
        f"JOIN {links} AS units ON units.parent = setup.id "
        f"JOIN {nodes} AS unit ON unit.id = units.child "
        "WHERE lots.parent IN ({numbers}) AND setup.kind = 'bench-setup' AND unit.kind = 'unit' "
        "AND (unit.serial = unit.code OR unit.serial = '') AND units.quantity IS NOT NULL "
        "GROUP BY lots.parent, setup.id, setup.station, lots.per, lots.position"
    )
    rows = Lookup(database, taken).rows(items)
    return [(row[0], row[1], int(row[2]) * int(row[3]) // MICRO) for row in rows]


def _spot(database: Database, place: str) -> int:
    """Give the number of the open spot of a place."""
    number = OPEN_SPOT.first(database, place=place)
    if number is None:
        number = int(HIGHEST_SPOT.first(database) or 0) + 1
        put_rows(database, "spot", [spot_row(id=number, place=place, within="")])
    return int(number)
