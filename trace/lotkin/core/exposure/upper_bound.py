"""How many units can be affected at most, however the pieces fell."""

from __future__ import annotations

import math
from collections import Counter
from typing import TYPE_CHECKING

from lotkin.core.exposure.guesses import guesses_of
from lotkin.core.exposure.piece_flow import PieceFlow
from lotkin.core.values.kinds import FAMILY_OF, ONE_THING, Family, Mixing
from lotkin.core.values.places import End
from lotkin.core.values.quantities import MICRO, is_whole

if TYPE_CHECKING:
    from collections.abc import Mapping

    from lotkin.core.exposure.exposure import Exposure
    from lotkin.core.exposure.reach import Reach
    from lotkin.core.values.places import Spot

__all__ = ["at_most_units"]

SETUP = "bench-setup"

Key = tuple[int, int, int]
"""A group of links: position of the child, event, number of the group."""


def at_most_units(
    reach: Reach, exposure: Exposure, stock: Mapping[int, Mapping[Spot, int]] | None = None
) -> int:
    """Bound the number of affected units by the flow of what was asked about.

    Suspect pieces are conserved: of 10 that went into a mixed lot of 100 at most 10 units are
    affected, though all 100 are suspect; and however often they are mixed on, they stay 10. A
    piece that still lies in its lot, or was scrapped from it, is in no unit. Nothing is concluded
    from numbers that do not add up, nor about what is cut up or ground.

    Args:
        reach: n items and m links.
        exposure: How they are exposed to the starts of the reach.
        stock: Position -> spot -> millionths, ends included: what is in no unit.

    Returns:
        Number of units, each serial counted in its latest state only.

    Complexity: O(n + m), and a maximum flow over the lots and setups.
    """
    pieces = _Pieces(reach, exposure, stock or {})
    starts = set(reach.starts)
    units, alone = 0, 0
    for i, kind in enumerate(reach.nodes.kind):
        if kind == "unit" and pieces.is_affected(i) and i not in pieces.superseded:
            units += 1
            alone += i in starts
    if not units:
        return 0
    return min(units, alone + pieces.flow(units))


class _Pieces:
    """What is known of the pieces of lots: where they came from, and where they can have gone.

    Attributes:
        superseded: Positions of states of a serial that a later one has replaced.
    """

    def __init__(
        self, reach: Reach, exposure: Exposure, stock: Mapping[int, Mapping[Spot, int]]
    ) -> None:
        self.reach = reach
        self.exposure = exposure
        self.stock = stock
        links = reach.links
        self.superseded = {
            parent
            for parent, mixing in zip(links.parent, links.mixing, strict=True)
            if mixing is Mixing.FORMER
        }
        self._key: list[Key] = list(zip(links.child, links.event, links.group, strict=True))
        self._members = Counter(self._key)
        built = self._links_into_units()
        self._built = Counter(links.parent[k] for k in built)
        self._sure = Counter(links.parent[k] for k in built if self._is_alone(k))
        self._cut: set[int] = set()
        self._mounted: dict[int, set[int]] = {}
        self._into: dict[int, dict[tuple[int, int, int], list[int]]] = {}
        self._guessed = guesses_of(reach)
        self._mixed_away: set[int] = set()
        self._overdrawn: set[int] = set()
        self._read_links()

    def is_affected(self, i: int) -> bool:
        """Tell whether an item may contain what was asked about now."""
        exposed = self.exposure[i]
        return exposed.reached and not exposed.removed

    def flow(self, units: int) -> int:
        """Give the most units that affected pieces can get into, of so many."""
        flow = PieceFlow(units)
        for i in range(len(self.reach)):
            if self._is_lot(i) and self.is_affected(i):
                self._put_lot(flow, i)
        starts = set(self.reach.starts)
        for parent, count in self._built.items():
            if not self.is_affected(parent):
                continue
            flow.draw(parent, count)
            is_setup = self.reach.nodes.kind[parent] == SETUP and parent not in starts
            sources = self._mounted.get(parent, set()) if is_setup else {parent}
            for source in sources:
                if not self.is_affected(source):
                    continue
                if self._is_lot(source) and source not in self._cut:
                    flow.take(source, parent)
                else:
                    flow.flood(parent)
        return flow.most()

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

    def _links_into_units(self) -> list[int]:
        """List the links that brought something into units as they are now."""
        links, kinds = self.reach.links, self.reach.nodes.kind
        return [
            k
            for k, (parent, child) in enumerate(zip(links.parent, links.child, strict=True))
            if parent >= 0
            and kinds[child] == "unit"
            and child not in self.superseded
            and links.mixing[k] is not Mixing.FORMER
        ]

    def _is_alone(self, k: int) -> bool:
        """Tell whether a link is no alternative to another."""
        return self.reach.links.mixing[k] is Mixing.EACH or self._members[self._key[k]] == 1

    def _read_links(self) -> None:
        """Note what is mounted, what goes into lots, and what is used up in parts."""
        links, kinds = self.reach.links, self.reach.nodes.kind
        # alternatives of which one was booked: it may have been the other
        pairs = zip(self._key, links.quantity, strict=True)
        open_ = {key for key, quantity in pairs if quantity is None and self._members[key] > 1}
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
            is_open = self._key[k] in open_
            if not self._is_alone(k) and kind != SETUP:
                self._mixed_away.add(parent)
            amount = None if is_open else links.quantity[k]
            if kind == SETUP:
                self._mounted.setdefault(child, set()).add(parent)
                amount = links.per[k] * self._sure[child] if self._is_alone(k) else None
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

    # --- what a lot holds, and what brought it there

    def _put_lot(self, flow: PieceFlow, i: int) -> None:
        if i in self._overdrawn or self._is_below_zero(i):
            flow.lot(i, math.inf)
            flow.fill(i, math.inf)
            return
        whole = (self.reach.nodes.quantity[i] or 0) / MICRO
        flow.lot(i, max(0.0, whole - self._elsewhere(i) / MICRO))
        if i in self.reach.starts:
            flow.fill(i, whole)
            return
        for group in self._into.get(i, {}).values():
            self._put_group(flow, i, group)

    def _is_below_zero(self, i: int) -> bool:
        """Tell whether more of a lot was counted, or taken from somewhere, than there was."""
        return any(quantity < 0 for quantity in self.stock.get(i, {}).values())

    def _elsewhere(self, i: int) -> int:
        """Give the millionths of a lot that are known to be in no unit.

        They are booked at a place or an end, and no guess or share lies between. What was lost
        may be anywhere.
        """
        known = 0
        for spot, quantity in self.stock.get(i, {}).items():
            if quantity <= 0 or spot.place in (End.LOST, End.USED_IN) or not is_whole(quantity):
                continue
            if i not in (self._mixed_away if spot.is_end else self._guessed):
                known += quantity
        return known

    def _put_group(self, flow: PieceFlow, child: int, group: list[int]) -> None:
        """Note the affected pieces that a group brings into a lot."""
        links = self.reach.links
        mixing = links.mixing[group[0]]
        ways: list[tuple[int, float]] = []
        for k in group:
            parent, quantity = links.parent[k], links.quantity[k]
            if parent < 0 or mixing is Mixing.FORMER or not self.is_affected(parent):
                continue
            if (
                mixing is Mixing.BLEND
                or parent in self._cut
                or not self._is_lot(parent)
                or self._is_divided(parent, group)
            ):
                flow.fill(child, math.inf)
                return
            is_counted = mixing is not Mixing.EITHER and quantity is not None
            ways.append((parent, (quantity or 0) / MICRO if is_counted else math.inf))
        for parent, most in ways:
            flow.pass_on(parent, child, most)

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
