"""How many units can be affected at most, however the pieces fell."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from lotkin.core.kinds import Mixing
from lotkin.core.quantities import MICRO

if TYPE_CHECKING:
    from lotkin.core.exposure import Exposure
    from lotkin.core.reach import Group, Reach

__all__ = ["at_most_units"]


def at_most_units(reach: Reach, exposure: Exposure) -> int:
    """Bound the number of affected units by the flow of what was asked about.

    A lot cannot spread more affected pieces than it was given: of a mixed lot of 100 pieces into
    which 10 suspect ones went, at most 10 units are affected, though all 100 are suspect.

    Complexity: O(n + m).
    """
    most = [0.0] * len(reach)
    drawing: dict[int, set[int]] = {}
    starts = set(reach.starts)
    quantity_into = _quantities(reach)
    groups = reach.groups()
    units = []
    for i in reach.order():
        if not exposure.reached[i] or exposure.removed[i]:
            continue
        whole = (reach.nodes.quantity[i] or 0) / MICRO
        if i in starts or not reach.is_material(i) or reach.is_one_thing(i) or not whole:
            most[i] = whole if i in starts and whole and reach.nodes.unit[i] == "pcs" else math.inf
        else:
            most[i] = min(whole, sum(_from(reach, g, i, most, quantity_into) for g in groups[i]))
        if reach.nodes.kind[i] == "unit":
            units.append(i)
            for lot in _lots_of(reach, groups, i):
                drawing.setdefault(lot, set()).add(i)
    bound = sum(min(len(users), most[lot]) for lot, users in drawing.items())
    return int(min(len(units), bound)) if units else 0


def _quantities(reach: Reach) -> dict[tuple[int, int], float]:
    links = reach.links
    found: dict[tuple[int, int], float] = {}
    for parent, child, quantity in zip(links.parent, links.child, links.quantity, strict=True):
        if quantity is not None:
            found[parent, child] = found.get((parent, child), 0.0) + quantity / MICRO
    return found


def _from(
    reach: Reach,
    group: Group,
    child: int,
    most: list[float],
    quantity_into: dict[tuple[int, int], float],
) -> float:
    """Bound the affected pieces that a group brings into a lot."""
    mixing, _, members, _ = group
    brought = []
    for parent, _, _ in members:
        if most[parent] == math.inf or reach.is_one_thing(parent):
            brought.append(math.inf if most[parent] else 0.0)
        else:
            brought.append(min(most[parent], quantity_into.get((parent, child), math.inf)))
    return max(brought) if mixing is Mixing.EITHER else sum(brought)


def _lots_of(reach: Reach, groups: list[list[Group]], unit: int) -> set[int]:
    """List the reached parents that a unit drew pieces from, setups taken apart."""
    found: set[int] = set()
    for mixing, _, members, _ in groups[unit]:
        if mixing is Mixing.FORMER:
            continue
        for parent, _, _ in members:
            if reach.nodes.kind[parent] == "bench-setup":
                found |= {lot for _, _, lots, _ in groups[parent] for lot, _, _ in lots}
            else:
                found.add(parent)
    return found
