"""Finding a circle in a table of links."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["find_circle", "parents_first"]


def find_circle(links: Sequence[tuple[str, str]]) -> list[str]:
    """Find one circle, however long.

    Items without a parent are taken away until none is left that has none (Kahn 1962); what
    remains has a parent that remains too, so a walk upwards meets itself.

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
    children: dict[str, list[str]] = {}
    open_parents: dict[str, int] = {}
    for parent, child in links:
        children.setdefault(parent, []).append(child)
        open_parents[child] = open_parents.get(child, 0) + 1
    free = [code for code in children if code not in open_parents]
    while free:
        for child in children.get(free.pop(), ()):
            open_parents[child] -= 1
            if not open_parents[child]:
                del open_parents[child]
                free.append(child)
    return _walk_up(links, open_parents) if open_parents else []


def parents_first(links: Sequence[tuple[str, str]]) -> dict[str, int]:
    """Number items so that every parent comes before its children (Kahn 1962).

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


def _walk_up(links: Sequence[tuple[str, str]], left: dict[str, int]) -> list[str]:
    """Walk from child to parent among what is left until an item comes up again."""
    parent_of: dict[str, str] = {}
    for parent, child in links:
        if parent in left and child in left:
            parent_of.setdefault(child, parent)
    seen: dict[str, int] = {}
    code = next(iter(parent_of))
    while code not in seen:
        seen[code] = len(seen)
        code = parent_of[code]
    circle = list(seen)[seen[code] :][::-1]
    start = circle.index(min(circle))
    return [*circle[start:], *circle[: start + 1]]
