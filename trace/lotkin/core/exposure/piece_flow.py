"""A network of lots through which whole pieces can flow into units, and the most that can."""

from __future__ import annotations

import math

import numpy as np
from scipy.sparse import csr_array
from scipy.sparse.csgraph import maximum_flow

__all__ = ["PieceFlow"]

SOURCE, SINK = 0, 1


class PieceFlow:
    """Lots with what they can hold, ways between them, and the draws of units.

    Args:
        most: No more than this is asked about: capacities above it are the same.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._number: dict[tuple[int, str], int] = {}
        self._arcs: dict[tuple[int, int], int] = {}

    def lot(self, lot: int, holds: float) -> None:
        """Add a lot that lets so many pieces through."""
        self._arc(self._node(lot, "in"), self._node(lot, "out"), holds)

    def fill(self, lot: int, pieces: float) -> None:
        """Let so many affected pieces into a lot from nowhere."""
        self._arc(SOURCE, self._node(lot, "in"), pieces)

    def pass_on(self, lot: int, into: int, pieces: float) -> None:
        """Let so many pieces go from a lot into another."""
        self._arc(self._node(lot, "out"), self._node(into, "in"), pieces)

    def draw(self, parent: int, units: int) -> None:
        """Let so many units draw a piece each through a setup, or straight from a lot."""
        self._arc(self._node(parent, "drawn"), SINK, units)

    def take(self, lot: int, parent: int) -> None:
        """Let what is drawn through a setup come from a lot."""
        self._arc(self._node(lot, "out"), self._node(parent, "drawn"), math.inf)

    def flood(self, parent: int) -> None:
        """Let all that is drawn through a setup be affected."""
        self._arc(SOURCE, self._node(parent, "drawn"), math.inf)

    def most(self) -> int:
        """Give the most pieces that can reach units, by maximum flow; none above `most`."""
        if not self._arcs:
            return 0
        ends = np.array(list(self._arcs), np.int32)
        holds = np.array([min(one, self._most) for one in self._arcs.values()], np.int32)
        size = 2 + len(self._number)
        network = csr_array((holds, (ends[:, 0], ends[:, 1])), shape=(size, size))
        return int(maximum_flow(network, SOURCE, SINK).flow_value)

    def _node(self, position: int, side: str) -> int:
        return self._number.setdefault((position, side), 2 + len(self._number))

    def _arc(self, start: int, end: int, pieces: float) -> None:
        """Add to the capacity of an arc; a part of a piece counts as one."""
        more = self._most if math.isinf(pieces) else math.ceil(pieces)
        self._arcs[start, end] = min(self._most, self._arcs.get((start, end), 0) + more)
