"""How far lots spread: how many units a recall of each takes, and what mixing adds to that.

Source of the measures: Dupuy, Botta-Genoulaz, Guinet 2005, J. Food Eng. 70:333-339; Dabbene and
Gay 2011, Comput. Electron. Agric. 75:139-146. Downward dispersion of a raw lot is the number of
finished ones that contain it, upward dispersion of a finished one the number of raw lots in it;
both sum to the batch dispersion.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from lotkin.core.values.kinds import FAMILY_OF, Family, Mixing

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from lotkin.core.genealogy.items import Item, Link

__all__ = ["Dispersion", "Mixed", "disperse"]

BLOCK = 8192
"""Units, or raw lots, that are followed at once: one kilobyte an item."""


@dataclass(frozen=True, slots=True)
class Mixed:
    """A lot in which several were mixed, and what that costs.

    Attributes:
        item: The lot that came of it.
        mixing: `one-of` for pieces tipped together, `blend` for what was stirred.
        parents: (code, its share; None if a quantity is not known) of what went in.
        units: Units that it reaches.
        extra: Units more in the recalls of all its parents together than were to be expected had
            they stayed apart, each unit then being of one of them by their shares. Units that a
            parent reaches on another way too do not count.
    """

    item: Item
    mixing: Mixing
    parents: tuple[tuple[str, float | None], ...]
    units: int
    extra: float


@dataclass(frozen=True)
class Dispersion:
    """How far everything spreads.

    Attributes:
        items: All items; the next two lists are in this order.
        downward: Units that a recall of the item takes: those whose newest state has it, or may.
        upward: Raw lots behind the item.
        raw: Codes of the raw lots: material with no material behind it.
        units: Codes of the newest states of all units.
        mixed: What was mixed, the most costly first.
    """

    items: Sequence[Item]
    downward: Sequence[int]
    upward: Sequence[int]
    raw: Sequence[str]
    units: Sequence[str]
    mixed: Sequence[Mixed]

    @cached_property
    def _at(self) -> dict[str, int]:
        return {item.code: i for i, item in enumerate(self.items)}

    def units_of(self, code: str) -> int:
        """Give the downward dispersion of an item."""
        return self.downward[self._at[code]]

    def raw_lots_of(self, code: str) -> int:
        """Give the upward dispersion of an item."""
        return self.upward[self._at[code]]

    @cached_property
    def batch_dispersion(self) -> int:
        """Sum the downward dispersions of all raw lots."""
        return sum(self.units_of(code) for code in self.raw)

    @property
    def worst_recall(self) -> int:
        """Give the largest number of units that the recall of one raw lot takes."""
        return max((self.units_of(code) for code in self.raw), default=0)

    @property
    def average_recall(self) -> float:
        """Give the mean over all raw lots."""
        return self.batch_dispersion / len(self.raw) if self.raw else 0.0

    @property
    def worst_upward(self) -> int:
        """Give the largest number of raw lots in one unit."""
        return max((self.raw_lots_of(code) for code in self.units), default=0)

    @property
    def average_upward(self) -> float:
        """Give the mean over all units."""
        return self.batch_dispersion / len(self.units) if self.units else 0.0


def disperse(items: Sequence[Item], links: Sequence[Link]) -> Dispersion:
    """Follow all items down to the units and up to the raw lots at once.

    Every item carries one bit for each unit it reaches, passed on from child to parent along the
    topological order.

    Args:
        items: n items.
        links: m links between them.

    Complexity: O((n + m) · units / 64) words.
    """
    graph = _Graph(items, links)
    downward, upward = [0] * len(items), [0] * len(items)
    extra: dict[tuple[int, int, int], float] = defaultdict(float)
    for bits in _spread(graph.order[::-1], graph.children, graph.units):
        for i, reached in enumerate(bits):
            downward[i] += reached.bit_count()
        for key, members in graph.mixed.items():
            extra[key] += _extra(graph, bits, key[0], members)
    for bits in _spread(graph.order, graph.parents, graph.raw):
        for i, behind in enumerate(bits):
            upward[i] += behind.bit_count()
    mixed = [
        Mixed(
            items[key[0]],
            graph.mixing[key],
            tuple((items[i].code, share) for i, share in members),
            downward[key[0]],
            round(extra[key], 6),
        )
        for key, members in graph.mixed.items()
    ]
    mixed.sort(key=lambda one: (-one.extra, -one.units, one.item.code))
    return Dispersion(
        items,
        downward,
        upward,
        [items[i].code for i in graph.raw],
        [items[i].code for i in graph.units],
        mixed,
    )


class _Graph:
    """Positions instead of codes; links from the old state of a unit left out.

    Attributes:
        parents, children: Positions, by position.
        order: All positions, parents before children.
        units, raw: Positions of the newest states of units, and of raw lots.
        mixed: (child, event, group) -> (parent, share) of what was mixed; `mixing` how.
    """

    def __init__(self, items: Sequence[Item], links: Sequence[Link]) -> None:
        at = {item.code: i for i, item in enumerate(items)}
        material = [FAMILY_OF[item.kind] is Family.MATERIAL for item in items]
        self.parents: list[list[int]] = [[] for _ in items]
        self.children: list[list[int]] = [[] for _ in items]
        older: set[int] = set()
        groups: dict[tuple[int, int, int], list[Link]] = defaultdict(list)
        for link in links:
            parent, child = at[link.parent], at[link.child]
            if link.mixing is Mixing.FORMER:
                older.add(parent)
                continue
            self.parents[child].append(parent)
            self.children[parent].append(child)
            if link.mixing in (Mixing.ONE_OF, Mixing.BLEND):
                groups[child, link.event, link.group].append(link)
        self.order = _topological(self.parents, self.children)
        self.units = [i for i, one in enumerate(items) if one.kind == "unit" and i not in older]
        self.raw = [
            i
            for i, item in enumerate(items)
            if material[i]
            and item.kind not in ("unit", "bench-setup")
            and not any(material[parent] for parent in self.parents[i])
        ]
        self.mixing = {key: group[0].mixing for key, group in groups.items() if len(group) > 1}
        self.mixed = {
            key: [(at[link.parent], share) for link, share in _shares(groups[key], items, at)]
            for key in self.mixing
        }


def _topological(parents: list[list[int]], children: list[list[int]]) -> list[int]:
    """Order positions by Kahn's algorithm; O(n + m)."""
    waiting = [len(above) for above in parents]
    order = [i for i, number in enumerate(waiting) if not number]
    for i in order:
        for child in children[i]:
            waiting[child] -= 1
            if not waiting[child]:
                order.append(child)
    return order


def _shares(
    group: list[Link], items: Sequence[Item], at: dict[str, int]
) -> list[tuple[Link, float | None]]:
    """Give the share of each parent; None for all where one is not known."""
    total = sum(link.quantity or 0 for link in group)
    units = {items[at[link.parent]].unit for link in group}
    if len(units) > 1 or not total or any(link.quantity is None for link in group):
        return [(link, None) for link in group]
    return [(link, (link.quantity or 0) / total) for link in group]


def _spread(order: list[int], into: list[list[int]], marked: list[int]) -> Iterator[list[int]]:
    """Yield for each block of marked items the bits of those that reach each position."""
    for start in range(0, len(marked), BLOCK):
        bits = [0] * len(order)
        for bit, i in enumerate(marked[start : start + BLOCK]):
            bits[i] = 1 << bit
        for i in order:
            reached = bits[i]
            for j in into[i]:
                reached |= bits[j]
            bits[i] = reached
        yield bits


def _extra(
    graph: _Graph, bits: list[int], child: int, members: list[tuple[int, float | None]]
) -> float:
    """Sum over the parents the units that each would not reach had they stayed apart."""
    extra = 0.0
    for parent, share in members:
        another_way = 0
        for other in graph.children[parent]:
            if other != child:
                another_way |= bits[other]
        only_so = (bits[child] & ~another_way).bit_count()
        extra += (1 - (1 / len(members) if share is None else share)) * only_so
    return extra
