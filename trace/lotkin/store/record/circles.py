"""Finding a circle that new links would close."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.store.connection.statements import Lookup

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.store.connection.database import Database

__all__ = ["find_circle"]


def find_circle(database: Database, links: Sequence[tuple[int, int]]) -> list[int]:
    """Find a circle through one of some links.

    Args:
        database: An open transaction; the links are written already.
        links: (parent, child) numbers.

    Returns:
        The numbers along the circle, first and last the same; [] if there is none.
    """
    for parent, child in links:
        path = _path(database, child, parent)
        if path:
            return [parent, *path]
    return []


def _path(database: Database, start: int, goal: int) -> list[int]:
    """Find a way down from `start` to `goal`, breadth first; [] if there is none."""
    links_of = Lookup(database, "SELECT parent, child FROM link WHERE parent IN ({numbers})")
    came_from = {start: start}
    level = [start]
    while level and goal not in came_from:
        rows = links_of.rows(level)
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
