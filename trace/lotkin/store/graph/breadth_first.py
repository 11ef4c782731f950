"""Searching the graph: all that links lead to, breadth first, in compiled code."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Array = NDArray[Any]

__all__ = ["reached", "spans"]


def reached(
    at: Array, far: Array, starts: Sequence[int], first: Sequence[int] | None = None
) -> Array:
    """Find all that is reached from some items.

    Args:
        at: Where the neighbours of each item begin in `far`; one more than there are items.
        far: Neighbours.
        starts: Numbers of the items to begin with.
        first: Numbers to go on from instead of all direct neighbours of the starts.

    Returns:
        Numbers of all items reached, the starts first, each once.

    Complexity: O(items + links reached); with several starts a copy of `far` is made.
    """
    # loaded only where much is searched: it takes longer than a small answer
    from scipy.sparse import csr_matrix  # noqa: PLC0415
    from scipy.sparse.csgraph import breadth_first_order  # noqa: PLC0415

    begun = list(dict.fromkeys(starts))
    hops = begun
    size, count = len(at) - 1, len(far)
    if len(begun) == 1 and first is None:
        matrix = csr_matrix((_ones(count), far, at), shape=(size, size))
        alone: Array = breadth_first_order(matrix, begun[0], return_predecessors=False)
        return alone
    if first is not None:
        allowed = np.zeros(size, bool)
        allowed[list(first)] = True
        below = [far[at[s] : at[s + 1]] for s in begun]
        hops = [*begun, *(int(c) for row in below for c in row[allowed[row]])]
    # all begin at once from an item that does not exist
    ends = np.append(at, count + len(hops)).astype(np.int32)
    links = np.concatenate([far, np.array(hops, np.int32)])
    if first is not None:
        for start in begun:
            links[at[start] : at[start + 1]] = start
    matrix = csr_matrix((_ones(len(links)), links, ends), shape=(size + 1, size + 1))
    order: Array = breadth_first_order(matrix, size, return_predecessors=False)
    return order[1:]


def _ones(count: int) -> Array:
    # breadth_first_order looks at no weight, only at their type
    return np.broadcast_to(np.float64(1), (count,)) if count else np.empty(0)


def spans(at: Array, numbers: Array) -> Array:
    """List the places of all links of some items, item by item."""
    begins = at[numbers].astype(np.int64)
    counts = at[numbers + 1].astype(np.int64) - begins
    ends = np.cumsum(counts)
    total = int(ends[-1]) if len(ends) else 0
    places: Array = np.arange(total) + np.repeat(begins - (ends - counts), counts)
    return places
