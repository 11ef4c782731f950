"""What is reached from some items along the links, in columns, ready for computing.

Columns instead of one object an item: an answer may hold a million of them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from lotkin.core.values.kinds import FAMILY_OF, ONE_THING, Family, Mixing
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from lotkin.core.exposure.reach_arrays import ReachArrays

__all__ = ["Group", "Groups", "LinkColumns", "Member", "NodeColumns", "Reach"]


@dataclass(slots=True)
class NodeColumns:
    """Items, one list a field, all of the same length n; position is what links refer to."""

    code: Sequence[str]
    kind: Sequence[str]
    part: Sequence[str]
    quantity: Sequence[int | None]
    unit: Sequence[str]
    serial: Sequence[str]


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
"""A parent in a group: position, its share (None if not known), pieces of it in one child.

Infinitely many pieces stand for some number that is not recorded.
"""

Group = tuple[Mixing, bool, list[Member], float]
"""How it mixes, whether all its parents are reached, its reached parents, pieces in one child."""


NO_GROUPS: list[Group] = []
"""Stands for the groups of all heirs."""


class Groups(dict[int, list[Group]]):
    """Groups of links by the position of the item that they lead into; none for heirs."""

    def __missing__(self, position: int) -> list[Group]:
        """Give none."""
        return NO_GROUPS


@dataclass(slots=True)
class Reach:
    """Items reached from the starts (which are among them), and the links between them.

    Attributes:
        nodes: n items.
        links: m links; all parents of a reached item that stand in a mixed group with a reached
            one are here, those outside as -1.
        starts: Positions of the items asked about.
        arrays: The same as arrays, if whoever gathered it has them.
    """

    nodes: NodeColumns
    links: LinkColumns
    starts: list[int]
    arrays: ReachArrays | None = None
    _groups: Groups | None = field(default=None)
    _heirs: list[int] | None = field(default=None)
    _inner: list[int] | None = field(default=None)
    _ends: list[int] | None = field(default=None)

    def __len__(self) -> int:
        return len(self.nodes.code)

    def is_material(self, i: int) -> bool:
        """Tell whether the item at a position is material."""
        return FAMILY_OF[self.nodes.kind[i]] is Family.MATERIAL

    def is_one_thing(self, i: int) -> bool:
        """Tell whether all of an item shares one fate, unlike a lot of separate pieces."""
        return self.nodes.unit[i] != "pcs" or self.is_whole(i)

    def is_whole(self, i: int) -> bool:
        """Tell whether an item is one, and holds all that went into it: a unit, a blend."""
        kind = self.nodes.kind[i]
        return (
            kind in ONE_THING
            or FAMILY_OF[kind] is not Family.MATERIAL
            or (self.nodes.unit[i] == "pcs" and self.nodes.quantity[i] == MICRO)
        )

    def order(self) -> list[int]:
        """List the positions so that parents come before children (the graph's own order)."""
        return [*self.inner(), *self.ends()]

    def inner(self) -> list[int]:
        """List the positions of all but the ends, parents before children."""
        if self._inner is None:
            self._inner, self._ends = _ordered(self)
        return self._inner

    def ends(self) -> list[int]:
        """List the positions of heirs that nothing is made from; most items are such."""
        if self._ends is None:
            self._inner, self._ends = _ordered(self)
        return self._ends

    def heirs(self) -> list[int]:
        """Give, for items that take over their only parent's exposure as it is, that parent.

        Most items are such: units of one setup, say. Below 0 for all others.
        """
        if self._heirs is None:
            self._heirs = _heirs(self)
        return self._heirs

    def groups(self) -> Groups:
        """Give the groups of links into each item by its position; none for heirs."""
        if self._groups is None:
            self._groups = _gather(self)
        return self._groups


def _heirs(reach: Reach) -> list[int]:
    """Find items with one link only, by which all of the parent's exposure passes."""
    if reach.arrays is not None:
        found: list[int] = reach.arrays.heirs.tolist()
        return found
    links, kinds = reach.links, reach.nodes.kind
    family = {kind: FAMILY_OF[kind] is Family.MATERIAL for kind in set(kinds)}
    material = [family[kind] for kind in kinds]
    unseen, several = -2, -1
    heirs = [unseen] * len(reach)
    each = Mixing.EACH
    for k, (parent, child, mixing, per, quantity) in enumerate(
        zip(links.parent, links.child, links.mixing, links.per, links.quantity, strict=True)
    ):
        if heirs[child] != unseen:
            heirs[child] = several
        elif (
            mixing is each
            and per <= MICRO
            and parent >= 0
            and material[parent] == material[child]
            and (quantity == MICRO or _pieces(reach, k) == 1.0)
        ):
            heirs[child] = parent
        else:
            heirs[child] = several
    return heirs


def _ordered(reach: Reach) -> tuple[list[int], list[int]]:
    """Order the positions but for the ends so that parents come before children; and the ends."""
    links, arrays = reach.links, reach.arrays
    if arrays is not None:
        ends: list[int] = arrays.is_end.nonzero()[0].tolist()
        inner = arrays.inner_by_number()
        if inner is not None:
            return inner.tolist(), ends
        is_end: list[bool] = arrays.is_end.tolist()
        places = arrays.links_to(~arrays.is_end)
        pairs = zip(arrays.parent[places].tolist(), arrays.child[places].tolist(), strict=True)
    else:
        has_children = set(links.parent)
        is_end = [of >= 0 and i not in has_children for i, of in enumerate(reach.heirs())]
        ends = [i for i, end in enumerate(is_end) if end]
        pairs = zip(links.parent, links.child, strict=True)
    return _topological(len(reach), pairs, is_end), ends


def _topological(n: int, pairs: Iterable[tuple[int, int]], is_end: Sequence[bool]) -> list[int]:
    """Order the positions but for the ends by Kahn's algorithm; O(n + m)."""
    waiting = [0] * n
    below: list[list[int] | None] = [None] * n
    for parent, child in pairs:
        if is_end[child] or parent < 0:
            continue
        waiting[child] += 1
        under = below[parent]
        if under is None:
            below[parent] = [child]
        else:
            under.append(child)
    order = [i for i in range(n) if not waiting[i] and not is_end[i]]
    for i in order:
        for child in below[i] or ():
            waiting[child] -= 1
            if not waiting[child]:
                order.append(child)
    return order


def _gather(reach: Reach) -> Groups:
    """Put the links of each child together by group, with the shares of the parents."""
    links = reach.links
    found = Groups()
    mixed: dict[tuple[int, int, int], list[int]] = {}
    each = Mixing.EACH
    for k in _of_no_heirs(reach):
        parent, child = links.parent[k], links.child[k]
        if links.mixing[k] is each:
            if parent >= 0:
                group: Group = (each, True, [(parent, 1.0, _pieces(reach, k))], 1.0)
                found.setdefault(child, []).append(group)
        else:
            mixed.setdefault((child, links.event[k], links.group[k]), []).append(k)
    for (child, _, _), members in mixed.items():
        mix = _mix(reach, members)
        if mix is not None:
            found.setdefault(child, []).append(mix)
    return found


def _of_no_heirs(reach: Reach) -> list[int]:
    """List the links into items that are no heirs."""
    if reach.arrays is not None:
        found: list[int] = reach.arrays.links_to(reach.arrays.heirs < 0).tolist()
        return found
    heirs = reach.heirs()
    return [k for k, child in enumerate(reach.links.child) if heirs[child] < 0]


def _pieces(reach: Reach, k: int) -> float:
    """Give how many pieces of its parent a link puts into one piece of its child.

    What is one thing holds all that it took, whatever `per` says of it.
    """
    links = reach.links
    parent, child, quantity = links.parent[k], links.child[k], links.quantity[k]
    if parent >= 0 and reach.is_one_thing(parent):
        return 1.0
    per = max(links.per[k] / MICRO, 1.0)
    if not reach.is_whole(child) or reach.nodes.kind[child] == "bench-setup":
        return per
    if quantity is None:
        return per if _is_counted(reach, child) else math.inf
    return max(per, quantity / MICRO)


def _is_counted(reach: Reach, i: int) -> bool:
    """Tell whether `per` means something for an item: it is material that comes in pieces."""
    return reach.is_material(i) and (
        reach.nodes.unit[i] == "pcs" or reach.nodes.kind[i] == "bench-setup"
    )


def _mix(reach: Reach, members: list[int]) -> Group | None:
    links = reach.links
    child, mixing = links.child[members[0]], links.mixing[members[0]]
    quantities = [links.quantity[k] for k in members]
    units = {links.parent_unit[k] for k in members}
    total = sum(q for q in quantities if q is not None)
    known = total > 0 and None not in quantities and len(units) == 1
    per = max(max(links.per[k] for k in members) / MICRO, 1.0)
    if mixing is Mixing.ONE_OF and reach.is_whole(child):
        in_pieces = units == {"pcs"} and all(q is not None and q >= MICRO for q in quantities)
        if not _is_counted(reach, child) or (in_pieces and total <= per * MICRO):
            mixing = Mixing.BLEND  # some of each went into one thing: all of them are in it
    inside: list[Member] = []
    for k, quantity in zip(members, quantities, strict=True):
        parent = links.parent[k]
        if parent < 0:
            continue
        share = quantity / total if known and quantity is not None else None
        if len(members) == 1:
            share = 1.0
        pieces = _pieces(reach, k)
        if mixing is Mixing.EITHER and not reach.is_one_thing(parent):
            # quantities are weights here: whichever it was, all the pieces came from it
            pieces = per if _is_counted(reach, child) else max(pieces, total / MICRO)
        inside.append((parent, share, pieces))
    if not inside:
        return None
    return mixing, len(inside) == len(members), inside, per
