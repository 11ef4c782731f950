"""Bookings that had to choose: pieces may be of one lot or another, and one of them was booked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.kinds import Mixing
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from lotkin.core.exposure.reach import Reach

__all__ = ["guesses_of"]

SETUP = "bench-setup"
MIXED = frozenset({Mixing.ONE_OF, Mixing.EITHER, Mixing.BLEND})

Key = tuple[int, int, int]
"""A group of links: position of the child, event, number of the group."""


def guesses_of(reach: Reach) -> dict[int, float]:
    """Find what may have been taken of a lot, or may be of another lot after all.

    A unit begun under one setup of a bench and finished under the next took its pieces from one
    of them; they are booked from the later. What is mounted in both is no guess.

    Returns:
        Position -> millionths booked from it that may be of another; 0 if only more may be of it.

    Complexity: O(m).
    """
    links, kinds = reach.links, reach.nodes.kind
    groups: dict[Key, list[int]] = {}
    mounted: dict[int, dict[int, int]] = {}
    for k, (parent, child, mixing) in enumerate(
        zip(links.parent, links.child, links.mixing, strict=True)
    ):
        if mixing in MIXED:
            groups.setdefault((child, links.event[k], links.group[k]), []).append(k)
        if kinds[child] == SETUP and parent >= 0:
            mounted.setdefault(child, {})[parent] = links.per[k]
    found: dict[int, float] = {}
    for group in groups.values():
        if len(group) > 1 and any(links.quantity[k] is None for k in group):
            _note(reach, group, mounted, found)
    return found


def _note(
    reach: Reach, group: list[int], mounted: dict[int, dict[int, int]], found: dict[int, float]
) -> None:
    """Note the parents of a group of alternatives, or what is mounted in them."""
    links = reach.links
    parents = [links.parent[k] for k in group]
    lots = [set(mounted.get(parent, ())) for parent in parents]
    in_all = set.intersection(*lots)
    for k, parent in zip(group, parents, strict=True):
        booked = links.quantity[k] or 0
        if parent >= 0:
            found[parent] = found.get(parent, 0.0) + booked
        for lot, per in mounted.get(parent, {}).items():
            if lot not in in_all:
                found[lot] = found.get(lot, 0.0) + per * booked / MICRO
