"""The affected genealogy as a small graph: one box an item, or one for many that are alike."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable, Sequence

    from lotkin.core.answers.containment import Answer
    from lotkin.core.exposure.reach import Reach

__all__ = ["Genealogy", "GenealogyBox", "Room", "Sureness", "genealogy_of"]


@dataclass(frozen=True, slots=True)
class Room:
    """How much there is room for: boxes in all, in one column, and columns."""

    boxes: int
    in_layer: int
    layers: int


ON_PAPER = Room(40, 12, 10)

Sureness = Literal["subject", "certain", "possible", "removed"]


@dataclass(frozen=True, slots=True)
class GenealogyBox:
    """One item, or several that are alike.

    Attributes:
        code: Of the item; "" if it stands for several.
        count: How many it stands for; the states of one unit are one.
        part: "" if they are of several.
        layer: Column from the left, 0 for the oldest.
    """

    kind: str
    part: str
    sureness: Sureness
    code: str
    count: int
    layer: int


@dataclass(frozen=True, slots=True)
class Genealogy:
    """Boxes, and edges from older to newer ones as pairs of their numbers.

    Attributes:
        is_collapsed: Whether a box may stand for several items.
    """

    boxes: tuple[GenealogyBox, ...]
    edges: tuple[tuple[int, int], ...]
    is_collapsed: bool

    @property
    def layers(self) -> int:
        """Count the columns."""
        return max((box.layer for box in self.boxes), default=-1) + 1


def genealogy_of(
    answer: Answer, room: Room = ON_PAPER, apart: frozenset[str] = frozenset()
) -> Genealogy:
    """Draw together what is reached so that it can be taken in at a glance.

    Each item has a box of its own while there is room; beyond, those of one kind, part and
    certainty share one, at first only if they are equally far from the subjects. Filters of the
    question do not change the picture: it shows the whole way.

    Args:
        answer: In either direction.
        room: How many boxes there may be.
        apart: Kinds of which each item keeps a box of its own, if there is room for them.
    """
    reach = answer.items.maker.reach
    gone = _gone(answer)
    sure = [_sureness(answer, i, gone) for i in range(len(reach))]
    layers = _layers(reach)
    nodes = reach.nodes
    shared: list[Callable[[int], Hashable]] = [
        lambda i: (layers[i], nodes.kind[i], nodes.part[i], sure[i]),
        lambda i: (nodes.kind[i], nodes.part[i], sure[i]),
        lambda i: (nodes.kind[i], sure[i]),
    ]
    keys: list[Callable[[int], Hashable]] = [lambda i: i, *shared]
    if apart:
        keys[1:1] = [_but_apart(key, nodes.kind, apart) for key in shared]
    drawn = None
    for number, key in enumerate(keys):
        drawn = _draw(reach, sure, key, is_collapsed=number > 0)
        if _is_small(drawn, room):
            break
    if drawn is None:
        raise AssertionError
    return drawn


def _but_apart(
    key: Callable[[int], Hashable], kinds: Sequence[str], apart: frozenset[str]
) -> Callable[[int], Hashable]:
    return lambda i: i if kinds[i] in apart else key(i)


def _gone(answer: Answer) -> set[str]:
    """Give the serials of units of which only an earlier state had it."""
    maker = answer.items.maker
    nodes, removed = maker.reach.nodes, maker.exposure.removed
    return {nodes.serial[i] for i in range(len(maker.reach)) if removed[i] and nodes.serial[i]}


def _sureness(answer: Answer, i: int, gone: set[str]) -> Sureness:
    maker = answer.items.maker
    if i in maker.reach.starts:
        return "subject"
    exposed = maker.exposure[i]
    if exposed.removed or maker.reach.nodes.serial[i] in gone or maker.is_emptied(i):
        return "removed"
    return "certain" if exposed.certain else "possible"


def _is_small(drawn: Genealogy, room: Room) -> bool:
    in_layer: dict[int, int] = defaultdict(int)
    for box in drawn.boxes:
        in_layer[box.layer] += 1
    return (
        len(drawn.boxes) <= room.boxes
        and drawn.layers <= room.layers
        and max(in_layer.values(), default=0) <= room.in_layer
    )


def _layers(reach: Reach) -> list[int]:
    """Give how many links each item is from the subjects at most."""
    layers = [0] * len(reach)
    below: dict[int, list[int]] = defaultdict(list)
    for parent, child in zip(reach.links.parent, reach.links.child, strict=True):
        if parent >= 0:
            below[parent].append(child)
    for i in reach.order():
        for child in below[i]:
            layers[child] = max(layers[child], layers[i] + 1)
    return layers


def _draw(
    reach: Reach, sure: Sequence[Sureness], key: Callable[[int], Hashable], *, is_collapsed: bool
) -> Genealogy:
    """Make a box for each key; an edge that would lead back to an older box is left out."""
    members: dict[Hashable, list[int]] = {}
    order = reach.order()
    for i in order:
        members.setdefault(key(i), []).append(i)
    number = {name: at for at, name in enumerate(members)}
    box_of = {i: number[name] for name, inside in members.items() for i in inside}
    edges = {
        (box_of[parent], box_of[child])
        for parent, child in zip(reach.links.parent, reach.links.child, strict=True)
        if parent >= 0 and box_of[parent] < box_of[child]
    }
    layers = [0] * len(members)
    for parent, child in sorted(edges):
        layers[child] = max(layers[child], layers[parent] + 1)
    boxes = [_box(reach, sure, inside, layers[at]) for at, inside in enumerate(members.values())]
    return Genealogy(tuple(boxes), tuple(sorted(edges)), is_collapsed)


def _box(reach: Reach, sure: Sequence[Sureness], inside: Sequence[int], layer: int) -> GenealogyBox:
    nodes, first = reach.nodes, inside[0]
    names = {nodes.serial[i] or nodes.code[i] for i in inside}
    parts = {nodes.part[i] for i in inside}
    return GenealogyBox(
        kind=nodes.kind[first],
        part=parts.pop() if len(parts) == 1 else "",
        sureness=sure[first],
        code=nodes.code[first] if len(inside) == 1 else "" if len(names) > 1 else min(names),
        count=len(names),
        layer=layer,
    )
