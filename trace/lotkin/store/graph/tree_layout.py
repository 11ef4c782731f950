"""Laying the items out so that what is made of an item stands mostly behind it, in one stretch.

Of the links into an item one is chosen, so that the chosen ones form trees; items are placed in the
order in which a walk through the trees meets them. All that is below an item in its tree is then a
stretch of places, and the other links lead from stretch to stretch.

The link chosen is the one from the parent farthest from where everything began. It has mostly the
most ancestors, and choosing so keeps stretches few: R. Agrawal, A. Borgida and H. V. Jagadish,
Efficient management of transitive relationships in large data and knowledge bases, SIGMOD 1989
(which chooses the parent with the most ancestors, and proves that this is best).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from lotkin.store.graph.breadth_first import spans

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    Array = NDArray[Any]

__all__ = ["lay_out"]


def lay_out(at: Array, far: Array) -> dict[str, Array]:
    """Place n items with m links.

    Args:
        at: Where the children of each item begin in `far`; length n + 1.
        far: Children, those of one item in order; length m.

    Returns:
        `place`: item -> place; `order`: place -> item; `behind`: place -> where its stretch ends;
        `across`: places that links which were not chosen lead to, by the place that they lead
        from (`across_at` says from where); `lowest` and `highest`: place -> the outermost places
        that such links lead to from its stretch. All are of 32 bits.

    Complexity: O(n + m), and sorting.
    """
    size = len(at) - 1
    near = np.repeat(np.arange(size, dtype=np.int32), np.diff(at))
    is_first = np.ones(len(far), bool)
    is_first[1:] = (near[1:] != near[:-1]) | (far[1:] != far[:-1])  # several links count once
    near, far = near[is_first], far[is_first].astype(np.int32)
    at = np.zeros(size + 1, np.int64)
    np.cumsum(np.bincount(near, minlength=size), out=at[1:])
    levels = list(_levels(at, far, size))
    chosen, above = _chosen(near, far, levels, size)
    begin, behind = _stretches(levels, above, size)
    order = np.empty(size, np.int32)
    order[begin] = np.arange(size, dtype=np.int32)
    source, goal = begin[near[~chosen]], begin[far[~chosen]]
    lowest, highest = begin.copy(), begin.copy()
    np.minimum.at(lowest, near[~chosen], goal)
    np.maximum.at(highest, near[~chosen], goal)
    for level in reversed(levels[1:]):
        np.minimum.at(lowest, above[level], lowest[level])
        np.maximum.at(highest, above[level], highest[level])
    by_source = np.lexsort((goal, source))
    across_at = np.zeros(size + 1, np.int32)
    np.cumsum(np.bincount(source, minlength=size), out=across_at[1:])
    return {
        "place": begin.astype(np.int32),
        "order": order,
        "behind": behind[order].astype(np.int32),
        "lowest": lowest[order].astype(np.int32),
        "highest": highest[order].astype(np.int32),
        "across_at": across_at,
        "across": goal[by_source].astype(np.int32),
    }


def _levels(at: Array, far: Array, size: int) -> Iterator[Array]:
    """Yield items by the length of the longest way down to them, none first (Kahn 1962)."""
    waiting = np.bincount(far, minlength=size)
    level = np.flatnonzero(waiting == 0)
    while len(level):
        yield level
        below, counts = np.unique(far[spans(at, level)], return_counts=True)
        waiting[below] -= counts
        level = below[waiting[below] == 0]


def _chosen(near: Array, far: Array, levels: list[Array], size: int) -> tuple[Array, Array]:
    """Tell which links are chosen, and give the parent of each item by them, -1 for none."""
    depth = np.empty(size, np.int32)
    for number, level in enumerate(levels):
        depth[level] = number
    order = np.lexsort((near, depth[near], far))
    is_last = np.ones(len(order), bool)
    is_last[:-1] = far[order[1:]] != far[order[:-1]]
    chosen = np.zeros(len(far), bool)
    chosen[order[is_last]] = True
    above = np.full(size, -1, np.int64)
    above[far[chosen]] = near[chosen]
    return chosen, above


def _stretches(levels: list[Array], above: Array, size: int) -> tuple[Array, Array]:
    """Give, for each item, the place where its stretch begins and the one behind its end."""
    length = np.ones(size, np.int64)
    for level in reversed(levels[1:]):
        np.add.at(length, above[level], length[level])
    # among those of one parent, each begins behind the one before it
    siblings = np.argsort(above, kind="stable")
    ends = np.cumsum(length[siblings])
    begins = ends - length[siblings]
    is_first = np.ones(size, bool)
    is_first[1:] = above[siblings[1:]] != above[siblings[:-1]]
    first = np.repeat(begins[is_first], np.diff(np.append(np.flatnonzero(is_first), size)))
    begin = np.empty(size, np.int64)
    begin[siblings] = begins - first
    for level in levels[1:]:
        begin[level] += begin[above[level]] + 1
    return begin, begin + length
