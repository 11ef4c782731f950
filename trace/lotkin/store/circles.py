"""Finding a circle that new links would close."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sqlalchemy import select

from lotkin.store.rows import LINK

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sqlalchemy import Connection

__all__ = ["find_circle"]


def find_circle(connection: Connection, links: Sequence[tuple[int, int]]) -> list[int]:
    """Find a circle through one of some links.

    Args:
        connection: An open connection; the links are written already.
        links: (parent, child) numbers.

    Returns:
        The numbers along the circle, first and last the same; [] if there is none.
    """
    for parent, child in links:
        path = _path(connection, child, parent)
        if path:
            return [parent, *path]
    return []


def _path(connection: Connection, start: int, goal: int) -> list[int]:
    """Find a way down from `start` to `goal`, breadth first; [] if there is none."""
    came_from = {start: start}
    level = [start]
    while level and goal not in came_from:
        rows: list[tuple[int, int]] = []
        for at in range(0, len(level), 500):
            query = select(LINK.c.parent, LINK.c.child).where(
                LINK.c.parent.in_(level[at : at + 500])
            )
            rows += [(row[0], row[1]) for row in connection.execute(query)]
        level = []
        for parent, child in rows:
            if child not in came_from:
                came_from[child] = parent
                level.append(child)
    if goal not in came_from:
        return []
    path = [goal]
    while path[-1] != start:
        path.append(came_from[path[-1]])
    return path[::-1]
