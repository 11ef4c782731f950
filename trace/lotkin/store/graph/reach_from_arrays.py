"""A reach made from arrays: the same as a walk over the tables gives."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from lotkin.core.exposure.reach import LinkColumns, NodeColumns, Reach
from lotkin.core.exposure.reach_arrays import ReachArrays
from lotkin.core.values.kinds import FAMILY_OF, Mixing
from lotkin.store.graph.breadth_first import spans
from lotkin.store.graph.changes_since import NONE
from lotkin.store.tables.records import MIXING_BY_NUMBER, NUMBER_OF_MIXING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from lotkin.store.graph.mapped_graph import Graph
    from lotkin.store.graph.walk import Direction

    Array = NDArray[Any]

__all__ = ["reach_in"]

PURE = [NUMBER_OF_MIXING[m] for m in (MIXING_BY_NUMBER[0], MIXING_BY_NUMBER[4])]
"""Mixings in which other parents do not weigh."""

KINDS = ("", *FAMILY_OF)
NUMBER_OF_KIND = {name: number for number, name in enumerate(KINDS)}

MIXINGS = np.array(MIXING_BY_NUMBER, object)


def reach_in(
    graph: Graph, starts: Sequence[int], direction: Direction, first: Sequence[int] | None = None
) -> tuple[Array, Reach]:
    """Walk, and gather items and links.

    Returns:
        The numbers of the items by position, and the reach.
    """
    numbers = graph.reached(starts, direction, first)
    position = np.full(graph.size, -1, np.int32)
    position[numbers] = np.arange(len(numbers), dtype=np.int32)
    places, child = _links_into(graph, numbers)
    parent = graph.up[1][places]
    inside = position[parent] >= 0
    if direction == "down":
        if first is not None:
            inside &= ~_barred(graph, parent, child, starts, first)
        keep = inside | _weighs(graph, places, child, inside, position[parent] >= 0)
        places, child, parent = places[keep], child[keep], parent[keep]
    there = [int(position[number]) for number in starts]
    columns = _Columns(graph, numbers, position, places, child)
    return numbers, Reach(columns.nodes(), columns.links(), there, columns.arrays())


class _Columns:
    """Fields of what was reached."""

    def __init__(
        self, graph: Graph, numbers: Array, position: Array, places: Array, child: Array
    ) -> None:
        self.graph, self.numbers, self.places = graph, numbers, places
        self.above = graph.up[1][places]
        self.parent, self.child = position[self.above], position[child]
        self.amounts = graph.quantities(numbers)
        self.units = graph.texts("unit", numbers)
        self.kinds = graph.texts("kind", numbers)
        self.mixing = graph.of_links("mixing", places)
        self.quantities = graph.of_links("quantity", places)
        self.per = graph.of_links("per", places)

    def nodes(self) -> NodeColumns:
        """Give the items."""
        graph, numbers = self.graph, self.numbers
        return NodeColumns(
            graph.codes(numbers),
            self.kinds.tolist(),
            graph.texts("part", numbers).tolist(),
            _or_none(self.amounts),
            self.units.tolist(),
            graph.serials(numbers),
        )

    def links(self) -> LinkColumns:
        """Give the links."""
        graph, places = self.graph, self.places
        return LinkColumns(
            self.parent.tolist(),
            self.child.tolist(),
            graph.of_links("event", places).tolist(),
            graph.of_links("grp", places).tolist(),
            MIXINGS[self.mixing].tolist(),
            _or_none(self.quantities),
            self.per.tolist(),
            graph.texts("unit", self.above).tolist(),
        )

    def arrays(self) -> ReachArrays:
        """Give what the core wants as arrays."""
        numbered = self.graph.kind_numbers(self.numbers, NUMBER_OF_KIND)
        return ReachArrays(
            self.parent,
            self.child,
            self.mixing == NUMBER_OF_MIXING[Mixing.EACH],
            self.per,
            self.quantities,
            numbered,
            self.units == "pcs",
            self.amounts,
            self.numbers,
            KINDS,
        )


def _links_into(graph: Graph, numbers: Array) -> tuple[Array, Array]:
    """Give the places of all links into some items, and the items that they lead into."""
    at, _ = graph.up
    counts = at[numbers + 1].astype(np.int64) - at[numbers]
    return spans(at, numbers), np.repeat(numbers, counts)


def _barred(
    graph: Graph, parent: Array, child: Array, starts: Sequence[int], first: Sequence[int]
) -> Array:
    """Tell which links leave a start for somewhere else than is allowed."""
    begun, allowed = np.zeros(graph.size, bool), np.zeros(graph.size, bool)
    begun[list(starts)] = True
    allowed[list(first)] = True
    barred: Array = begun[parent] & ~allowed[child]
    return barred


def _weighs(graph: Graph, places: Array, child: Array, inside: Array, is_reached: Array) -> Array:
    """Tell which links come from outside into a mixed group that was reached."""
    mixed = ~np.isin(graph.of_links("mixing", places), PURE)
    if not mixed.any():
        return np.zeros(len(places), bool)
    event, group = graph.of_links("event", places), graph.of_links("grp", places)
    begins = np.ones(len(places), bool)
    begins[1:] = (np.diff(child) != 0) | (np.diff(event) != 0) | (np.diff(group) != 0)
    number = np.cumsum(begins) - 1
    has_inside = np.zeros(int(number[-1]) + 1, bool)
    has_inside[number[inside]] = True
    weighs: Array = mixed & ~is_reached & has_inside[number]
    return weighs


def _or_none(values: Array) -> list[int | None]:
    listed: list[int | None] = values.tolist()
    if (values == NONE).any():
        return [None if value == NONE else value for value in listed]
    return listed
