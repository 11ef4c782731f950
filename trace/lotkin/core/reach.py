"""What is reached from some items along the links, in columns, ready for computing.

Columns instead of one object an item: an answer may hold a million of them.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from lotkin.core.kinds import FAMILY_OF, ONE_THING, Family, Mixing
from lotkin.core.quantities import MICRO

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["Group", "LinkColumns", "Member", "NodeColumns", "Reach"]


@dataclass(slots=True)
class NodeColumns:
    """Items, one list a field, all of the same length n; position is what links refer to."""

    code: Sequence[str]
    kind: Sequence[str]
    part: Sequence[str]
    quantity: Sequence[int | None]
    unit: Sequence[str]
    made_at: Sequence[int | None]
    started_at: Sequence[int | None]
    serial: Sequence[str]
    supplier: Sequence[str]
    step: Sequence[str]
    event: Sequence[int]


@dataclass(slots=True)
class LinkColumns:
    """Links, one list a field, all of the same length m.

    `parent` and `child` are positions in the nodes; a parent outside of what is reached is -1 and
    counts only for the share of its group.
    """

    parent: Sequence[int]
    child: Sequence[int]
    event: Sequence[int]
    group: Sequence[int]
    mixing: Sequence[Mixing]
    quantity: Sequence[int | None]
    per: Sequence[int]
    parent_unit: Sequence[str]


Member = tuple[int, float | None, float]
"""A parent in a group: position, its share (None if not known), pieces of it in one child."""

Group = tuple[Mixing, bool, list[Member], float]
"""How it mixes, whether all its parents are reached, its reached parents, pieces in one child."""


@dataclass(slots=True)
class Reach:
    """Items reached from the starts (which are among them), and the links between them.

    Attributes:
        nodes: n items.
        links: m links; all parents of a reached item that stand in a mixed group with a reached
            one are here, those outside as -1.
        starts: Positions of the items asked about.
    """

    nodes: NodeColumns
    links: LinkColumns
    starts: list[int]
    _groups: list[list[Group]] | None = field(default=None)
    _order: list[int] | None = field(default=None)

    def __len__(self) -> int:
        return len(self.nodes.code)

    def is_material(self, i: int) -> bool:
        """Tell whether the item at a position is material."""
        return FAMILY_OF[self.nodes.kind[i]] is Family.MATERIAL

    def is_one_thing(self, i: int) -> bool:
        """Tell whether all of an item shares one fate, unlike a lot of separate pieces."""
        kind = self.nodes.kind[i]
        return (
            kind in ONE_THING
            or FAMILY_OF[kind] is not Family.MATERIAL
            or self.nodes.unit[i] != "pcs"
            or self.nodes.quantity[i] == MICRO
        )

    def order(self) -> list[int]:
        """List the positions so that parents come before children (the graph's own order)."""
        if self._order is None:
            self._order = _topological(len(self), self.links.parent, self.links.child)
        return self._order

    def groups(self) -> list[list[Group]]:
        """Give the groups of links into each item, in order of its position."""
        if self._groups is None:
            self._groups = _gather(self)
        return self._groups


def _topological(n: int, parents: Sequence[int], children: Sequence[int]) -> list[int]:
    """Order n positions by Kahn's algorithm; O(n + m)."""
    waiting = [0] * n
    below: list[list[int] | None] = [None] * n
    for parent, child in zip(parents, children, strict=True):
        if parent < 0:
            continue
        waiting[child] += 1
        under = below[parent]
        if under is None:
            below[parent] = [child]
        else:
            under.append(child)
    order = [i for i in range(n) if not waiting[i]]
    for i in order:
        for child in below[i] or ():
            waiting[child] -= 1
            if not waiting[child]:
                order.append(child)
    return order


def _gather(reach: Reach) -> list[list[Group]]:
    """Put the links of each child together by group, with the shares of the parents."""
    links = reach.links
    single: list[list[Group]] = [[] for _ in range(len(reach))]
    one_thing = [reach.is_one_thing(i) for i in range(len(reach))]
    mixed: dict[tuple[int, int, int], list[int]] = {}
    each = Mixing.EACH
    for k, (parent, child, mixing, per) in enumerate(
        zip(links.parent, links.child, links.mixing, links.per, strict=True)
    ):
        if mixing is each:
            if parent >= 0:
                pieces = 1.0 if per == MICRO or one_thing[parent] else max(per / MICRO, 1.0)
                single[child].append((each, True, [(parent, 1.0, pieces)], 1.0))
        else:
            mixed.setdefault((child, links.event[k], links.group[k]), []).append(k)
    for (child, _, _), members in mixed.items():
        group = _mix(reach, members, one_thing)
        if group is not None:
            single[child].append(group)
    return single


def _mix(reach: Reach, members: list[int], one_thing: list[bool]) -> Group | None:
    links = reach.links
    quantities = [links.quantity[k] for k in members]
    units = {links.parent_unit[k] for k in members}
    total = sum(q for q in quantities if q is not None)
    known = total > 0 and None not in quantities and len(units) == 1
    inside: list[Member] = []
    for k, quantity in zip(members, quantities, strict=True):
        parent = links.parent[k]
        if parent < 0:
            continue
        share = quantity / total if known and quantity is not None else None
        if len(members) == 1:
            share = 1.0
        pieces = 1.0 if one_thing[parent] else max(links.per[k] / MICRO, 1.0)
        inside.append((parent, share, pieces))
    if not inside:
        return None
    per = max(max(links.per[k] for k in members) / MICRO, 1.0)
    return links.mixing[members[0]], len(inside) == len(members), inside, per
