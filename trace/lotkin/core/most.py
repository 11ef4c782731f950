"""How many units can be affected at most, however the pieces fell."""

from __future__ import annotations

import math
from collections import Counter
from typing import TYPE_CHECKING

from lotkin.core.kinds import FAMILY_OF, ONE_THING, Family, Mixing
from lotkin.core.quantities import MICRO

if TYPE_CHECKING:
    from lotkin.core.exposure import Exposure
    from lotkin.core.reach import Reach

__all__ = ["at_most_units"]

SETUP = "bench-setup"


def at_most_units(reach: Reach, exposure: Exposure) -> int:
    """Bound the number of affected units by the flow of what was asked about.

    A lot cannot spread more affected pieces than it was given: of a mixed lot of 100 pieces into
    which 10 suspect ones went, at most 10 units are affected, though all 100 are suspect. Nothing
    is concluded from numbers that do not add up, nor about what is cut up or ground.

    Args:
        reach: n items and m links.
        exposure: How they are exposed to the starts of the reach.

    Returns:
        Number of units, each serial counted in its latest state only.

    Complexity: O(n + m).
    """
    flow = _Flow(reach, exposure)
    units, bound = 0, 0.0
    starts = set(reach.starts)
    for i, kind in enumerate(reach.nodes.kind):
        if kind == "unit" and flow.is_affected(i) and i not in flow.superseded:
            units += 1
            bound += i in starts
    for lot, count in flow.drawn_by_units().items():
        bound += min(count, flow.most(lot))
    return int(min(units, bound))


class _Flow:
    """How many affected pieces each lot can hold.

    Attributes:
        superseded: Positions of states of a serial that a later one has replaced.
    """

    def __init__(self, reach: Reach, exposure: Exposure) -> None:
        self.reach = reach
        self.exposure = exposure
        links = reach.links
        self.superseded = {
            parent
            for parent, mixing in zip(links.parent, links.mixing, strict=True)
            if mixing is Mixing.FORMER
        }
        self._built = Counter(
            parent
            for parent, child in zip(links.parent, links.child, strict=True)
            if parent >= 0 and reach.nodes.kind[child] == "unit" and child not in self.superseded
        )
        self._cut: set[int] = set()
        self._mounted: dict[int, set[int]] = {}
        self._into: dict[int, dict[tuple[int, int, int], list[int]]] = {}
        self._overdrawn: set[int] = set()
        self._read_links()
        self._most: dict[int, float] = {}
        for i in reach.order():
            if self._is_lot(i) and self.is_affected(i):
                self._most[i] = self._most_of_lot(i)

    def is_affected(self, i: int) -> bool:
        """Tell whether an item may contain what was asked about now."""
        exposed = self.exposure[i]
        return exposed.reached and not exposed.removed

    def most(self, i: int) -> float:
        """Give the affected pieces that can be drawn from an item: infinite if nothing says."""
        if not self.is_affected(i):
            return 0.0
        return math.inf if i in self._cut else self._most.get(i, math.inf)

    def drawn_by_units(self) -> dict[int, int]:
        """Count the units that drew from each item, setups taken apart unless they are suspect."""
        drawn: dict[int, int] = {}
        starts = set(self.reach.starts)
        for parent, count in self._built.items():
            is_setup = self.reach.nodes.kind[parent] == SETUP and parent not in starts
            for lot in self._mounted.get(parent, ()) if is_setup else (parent,):
                drawn[lot] = drawn.get(lot, 0) + count
        return drawn

    # --- reading the links

    def _is_lot(self, i: int) -> bool:
        """Tell whether an item is so many separate pieces."""
        nodes = self.reach.nodes
        kind = nodes.kind[i]
        return (
            kind not in ONE_THING
            and nodes.unit[i] == "pcs"
            and FAMILY_OF[kind] is Family.MATERIAL
            and bool(nodes.quantity[i])
        )

    def _read_links(self) -> None:
        """Note what is mounted, what goes into lots, and what is used up in parts."""
        links, kinds = self.reach.links, self.reach.nodes.kind
        taken: dict[int, int] = {}
        for k, (parent, child, mixing) in enumerate(
            zip(links.parent, links.child, links.mixing, strict=True)
        ):
            kind = kinds[child]
            if self._is_lot(child):
                own = k + 1 if mixing is Mixing.EACH else 0
                key = (links.event[k], links.group[k], own)
                self._into.setdefault(child, {}).setdefault(key, []).append(k)
            if parent < 0 or child in self.superseded or mixing is Mixing.FORMER:
                continue
            amount = links.quantity[k]
            if kind == SETUP:
                self._mounted.setdefault(child, set()).add(parent)
                amount = links.per[k] * self._built[child]
            if kind in (SETUP, "unit") and self._is_cut(k):
                self._cut.add(parent)
            if amount and FAMILY_OF[kind] is not Family.PACK:
                taken[parent] = taken.get(parent, 0) + amount
        quantities = self.reach.nodes.quantity
        self._overdrawn = {i for i, amount in taken.items() if amount > (quantities[i] or 0)}

    def _is_cut(self, k: int) -> bool:
        """Tell whether a piece of the parent can be in several units."""
        links = self.reach.links
        quantity = links.quantity[k]
        return (links.per[k] if quantity is None else quantity) < MICRO

    # --- following the flow

    def _most_of_lot(self, i: int) -> float:
        whole = (self.reach.nodes.quantity[i] or 0) / MICRO
        if i in self._overdrawn:
            return math.inf
        if i in self.reach.starts:
            return whole
        return min(whole, sum(self._brought(group) for group in self._into.get(i, {}).values()))

    def _brought(self, group: list[int]) -> float:
        """Bound the affected pieces that a group brings into a lot."""
        links = self.reach.links
        mixing = links.mixing[group[0]]
        brought = []
        for k in group:
            parent, quantity = links.parent[k], links.quantity[k]
            most = self.most(parent) if parent >= 0 and mixing is not Mixing.FORMER else 0.0
            if most and (mixing is Mixing.BLEND or self._is_divided(parent, group)):
                most = math.inf
            elif mixing is not Mixing.EITHER and quantity is not None and self._is_lot(parent):
                most = min(most, quantity / MICRO)
            brought.append(most)
        return max(brought) if mixing is Mixing.EITHER else sum(brought)

    def _is_divided(self, parent: int, group: list[int]) -> bool:
        """Tell whether a piece of the parent can be in several pieces of the child.

        A piece that goes through a step stays one piece; other pieces are whole in the child if
        no fewer were taken than there are in it.
        """
        links, nodes = self.reach.links, self.reach.nodes
        child = links.child[group[0]]
        if nodes.part[parent] and nodes.part[parent] == nodes.part[child]:
            return False
        quantities = [links.quantity[k] for k in group if links.parent_unit[k] == "pcs"]
        total = sum(quantity or 0 for quantity in quantities)
        return None in quantities or total < (nodes.quantity[child] or 0)
