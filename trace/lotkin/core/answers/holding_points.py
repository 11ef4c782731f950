"""Where to hold first: the items that most of what is suspect hangs on alone.

One item dominates another if every recorded way from the subjects to it leads through the first.
Whoever holds, clears or scraps the first with all that comes of it has dealt with the other.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.values.kinds import Mixing
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from lotkin.core.answers.rows import Here
    from lotkin.core.exposure.reach import Reach

__all__ = ["FROM_SUBJECTS", "UNREACHED", "HoldingPoint", "dominators", "holding_points"]

FROM_SUBJECTS = -1
"""Stands for the subjects together, above all items."""

UNREACHED = -2
"""Stands for no item: only an earlier state of a serial leads there."""


@dataclass(frozen=True, slots=True)
class HoldingPoint:
    """An item to hold, and what hangs on it alone.

    Attributes:
        code, kind, part, unit: The item; for things packed together, what they lie in.
        own: Millionths of it that are on hand; of what is packed together, all pieces.
        at: Where that is.
        items: Items on hand that holding it takes in, itself among them.
        units: Units on hand among them.
        pieces: Millionths of pieces on hand among them.
    """

    code: str
    kind: str
    part: str
    unit: str
    own: int
    at: tuple[Here, ...]
    items: int
    units: int
    pieces: int


def dominators(reach: Reach) -> list[int]:
    """Give for each item the nearest one that every way from the starts leads through.

    Args:
        reach: What is reached downwards; n items, m links.

    Returns:
        n positions; `FROM_SUBJECTS` where ways have nothing in common, and for the starts
        themselves; `UNREACHED` for what only an earlier state of a serial leads to.

    Complexity: near linear in practice; networkx is loaded when it is first asked for.
    Source: Cooper, Harvey and Kennedy, A Simple, Fast Dominance Algorithm (2001), in networkx.
    """
    # loaded only where it is asked for: it takes longer than most questions
    import networkx as nx  # noqa: PLC0415

    links = reach.links
    ways = [(FROM_SUBJECTS, start) for start in reach.starts]
    ways += [
        (parent, child)
        for parent, child, mixing in zip(links.parent, links.child, links.mixing, strict=True)
        if parent >= 0 and mixing is not Mixing.FORMER
    ]
    nearest = nx.immediate_dominators(nx.DiGraph(ways), FROM_SUBJECTS)
    return [nearest.get(i, UNREACHED) for i in range(len(reach))]


def holding_points(reach: Reach, on_hand: Mapping[int, tuple[Here, ...]]) -> list[HoldingPoint]:
    """Divide what is on hand among the fewest items that it hangs on, most pieces first.

    A subject stands for what is on hand of itself only: that it is to be held is known. What lies
    in one carton or outside batch and hangs on nothing else on hand is one point.

    Args:
        reach: What is reached downwards from the subjects.
        on_hand: Position of an item -> where pieces of it can be held.

    Returns:
        Points; together they hold everything on hand, each item once.
    """
    nearest = dominators(reach)
    starts = set(reach.starts)
    holder = [UNREACHED] * len(reach)
    held: dict[int, list[int]] = {}
    for i in reach.order():
        above = nearest[i]
        if above == UNREACHED:
            continue
        if i in starts:
            if i in on_hand:
                held[i] = [i]
            continue
        over = holder[above] if above >= 0 else UNREACHED
        holder[i] = over if over >= 0 else (i if i in on_hand else UNREACHED)
        if i in on_hand:
            held.setdefault(holder[i], []).append(i)
    points = _points(reach, on_hand, held)
    return sorted(points, key=lambda point: (-point.pieces, -point.own, point.code))


def _points(
    reach: Reach, on_hand: Mapping[int, tuple[Here, ...]], held: Mapping[int, Sequence[int]]
) -> list[HoldingPoint]:
    """Make a point of each holder, and one of each container of things that hold no others."""
    points = []
    packed: dict[tuple[str, str], list[int]] = {}
    for i, members in held.items():
        here = on_hand[i]
        if len(members) == len(here) == 1 and here[0].within:
            packed.setdefault((here[0].within, here[0].place), []).append(i)
        else:
            points.append(_point(reach, on_hand, i, members))
    kinds = dict(zip(reach.nodes.code, reach.nodes.kind, strict=True)) if packed else {}
    for (container, _), members in packed.items():
        together = _point(reach, on_hand, members[0], members)
        own = sum(here.quantity for i in members for here in on_hand[i])
        spot = on_hand[members[0]][0]._replace(within="", quantity=MICRO)
        parts = {reach.nodes.part[i] for i in members}
        points.append(
            HoldingPoint(
                code=container,
                kind=kinds.get(container, ""),
                part=parts.pop() if len(parts) == 1 else "",
                unit=together.unit,
                own=own,
                at=(spot,),
                items=together.items,
                units=together.units,
                pieces=together.pieces,
            )
        )
    return points


def _point(
    reach: Reach, on_hand: Mapping[int, tuple[Here, ...]], i: int, members: Sequence[int]
) -> HoldingPoint:
    nodes = reach.nodes
    quantities = {k: sum(here.quantity for here in on_hand[k]) for k in members}
    return HoldingPoint(
        code=nodes.code[i],
        kind=nodes.kind[i],
        part=nodes.part[i],
        unit=nodes.unit[i],
        own=quantities[i],
        at=on_hand[i],
        items=len(members),
        units=sum(nodes.kind[k] == "unit" for k in members),
        pieces=sum(q for k, q in quantities.items() if nodes.unit[k] == "pcs"),
    )
