"""Finding a circle in a table of links."""

from __future__ import annotations

from graphlib import CycleError, TopologicalSorter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["find_circle", "parents_first"]


def find_circle(links: Sequence[tuple[str, str]]) -> list[str]:
    """Find one circle, however long.

    Args:
        links: n pairs (parent, child).

    Returns:
        Codes along the circle from parent to child, the first one again at the end; the smallest
        code stands first. [] if there is no circle.

    Complexity: O(links); no recursion.

    Example:
        >>> find_circle([("B", "C"), ("A", "B"), ("C", "A")])
        ['A', 'B', 'C', 'A']
    """
    if {parent for parent, _ in links}.isdisjoint(child for _, child in links):
        return []
    order = TopologicalSorter[str]()
    for parent, child in links:
        order.add(child, parent)
    try:
        order.prepare()
    except CycleError as found:
        circle: list[str] = found.args[1][:-1]
        start = circle.index(min(circle))
        return [*circle[start:], *circle[: start + 1]]
    return []


def parents_first(links: Sequence[tuple[str, str]]) -> dict[str, int]:
    """Number items so that every parent comes before its children (Kahn 1962).

    An import is divided into events in this order: it must be the same when the import is sent
    again, whatever version of a library then is there.

    Args:
        links: n pairs (parent, child) without a circle.

    Complexity: O(links); no recursion.

    Example:
        >>> parents_first([("B", "C"), ("A", "B")])
        {'A': 0, 'B': 1, 'C': 2}
    """
    children: dict[str, list[str]] = {}
    open_parents: dict[str, int] = {}
    for parent, child in links:
        children.setdefault(parent, []).append(child)
        open_parents[child] = open_parents.get(child, 0) + 1
    order = [code for code in children if code not in open_parents]
    for code in order:
        for child in children.get(code, ()):
            open_parents[child] -= 1
            if not open_parents[child]:
                order.append(child)
    return {code: number for number, code in enumerate(order)}
