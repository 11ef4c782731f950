"""Exposure: how surely, and how much, reached items contain what was asked about.

Membership and certainty follow from the links alone; chance and content are numbers beside them
and never decide who belongs. Formulas: docs/explanation/exposure.md.
"""

from __future__ import annotations

import math
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.values.gc_paused import paused_collector
from lotkin.core.values.kinds import Mixing

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from lotkin.core.exposure.reach import Group, Reach

__all__ = ["Exposed", "Exposure", "expose"]


class Exposed(NamedTuple):
    """How one item is exposed.

    Attributes:
        reached: Whether a link leads there from one of the sources.
        removed: Reached only through an old state of the same serial.
        certain: Whether every piece of it contains the source, by the links alone.
        chance: Probability that a given piece does; None if a share is not known.
        low, high: Bounds of that probability which hold however its terms depend on each other.
        content: Expected fraction of the source in its material; None where that means nothing.
    """

    reached: bool
    removed: bool
    certain: bool
    chance: float | None
    low: float
    high: float
    content: float | None


NOT_REACHED = Exposed(False, False, False, 0.0, 0.0, 0.0, None)


class Term(NamedTuple):
    """What one group contributes, or one parent."""

    certain: bool
    chance: float | None
    low: float
    high: float


NOTHING = Term(False, 0.0, 0.0, 0.0)
SURE = Term(True, 1.0, 1.0, 1.0)


class Exposure:
    """How everything in a reach is exposed: `items[i]` for the item at position i.

    Computed when first looked at: which items are reached is known without it. Items that took it
    over unchanged share one record, so a million units cost little more than the lots behind them.
    The columns of `Exposed` can be had as lists of length n.
    """

    def __init__(self, compute: Callable[[], list[Exposed]]) -> None:
        self._compute = compute

    @cached_property
    def items(self) -> list[Exposed]:
        """One record for each item of the reach."""
        with paused_collector():
            return self._compute()

    def __getitem__(self, i: int) -> Exposed:
        return self.items[i]

    @cached_property
    def reached(self) -> list[bool]:
        """Column of `Exposed.reached`."""
        return [item.reached for item in self.items]

    @cached_property
    def removed(self) -> list[bool]:
        """Column of `Exposed.removed`."""
        return [item.removed for item in self.items]

    @cached_property
    def certain(self) -> list[bool]:
        """Column of `Exposed.certain`."""
        return [item.certain for item in self.items]

    @cached_property
    def chance(self) -> list[float | None]:
        """Column of `Exposed.chance`."""
        return [item.chance for item in self.items]

    @cached_property
    def low(self) -> list[float]:
        """Column of `Exposed.low`."""
        return [item.low for item in self.items]

    @cached_property
    def high(self) -> list[float]:
        """Column of `Exposed.high`."""
        return [item.high for item in self.items]

    @cached_property
    def content(self) -> list[float | None]:
        """Column of `Exposed.content`."""
        return [item.content for item in self.items]


def expose(reach: Reach, sources: Sequence[int]) -> Exposure:
    """Compute the exposure of everything in a reach to some of its items.

    Args:
        reach: n items and m links.
        sources: Positions of the items whose presence is asked for (any of them).

    Returns:
        n records; for a source itself chance and content are 1.

    Complexity: O(n + m).
    """
    return Exposure(lambda: _expose(reach, sources))


def _expose(reach: Reach, sources: Sequence[int]) -> list[Exposed]:
    items = [NOT_REACHED] * len(reach)
    groups = reach.groups()
    sourced = set(sources)
    has_content = all(reach.is_material(i) for i in sources)
    content = 1.0 if has_content else None
    source = Exposed(True, False, True, 1.0, 1.0, 1.0, content)
    inner = reach.inner()
    for i, heir_of in zip(inner, _heirs_of(reach, inner), strict=True):
        if i in sourced:
            items[i] = source
        elif heir_of >= 0:
            items[i] = items[heir_of]
        else:
            of_item = groups[i]
            live, former = _ways(items, of_item)
            material = has_content and reach.is_material(i)
            if live:
                term = _combine(items, of_item)
                part = _content(reach, items, of_item) if material else None
                items[i] = Exposed(True, False, *term, part)
            elif former:
                items[i] = Exposed(True, True, *NOTHING, 0.0 if material else None)
    if reach.arrays is not None:
        items = reach.arrays.shared_by_heirs(items)
    else:
        heirs = reach.heirs()
        for i in reach.ends():
            items[i] = items[heirs[i]]
    for i in sources:
        items[i] = source
    return items


def _heirs_of(reach: Reach, inner: Sequence[int]) -> Sequence[int]:
    """Give, for some items, the parent whose exposure each takes over; below 0 for none."""
    if reach.arrays is not None:
        found: list[int] = reach.arrays.heirs[inner].tolist()
        return found
    heirs = reach.heirs()
    return [heirs[i] for i in inner]


def _ways(items: Sequence[Exposed], groups: Sequence[Group]) -> tuple[bool, bool]:
    """Tell whether links lead here from a source, and whether only by way of an old state."""
    live = former = False
    for mixing, _, members, _ in groups:
        for parent, _, _ in members:
            exposed = items[parent]
            if exposed.reached:
                if mixing is Mixing.FORMER or exposed.removed:
                    former = True
                else:
                    live = True
    return live, former


def _combine(items: Sequence[Exposed], groups: Sequence[Group]) -> Term:
    """Combine the groups into an item: it is spared only if every group spares it."""
    terms = [_term(items, group) for group in groups if group[0] is not Mixing.FORMER]
    term = terms[0] if len(terms) == 1 else _union(terms)
    return SURE if term.certain else term


def _union(terms: Sequence[Term]) -> Term:
    """Give the chance of at least one, taking the terms as independent, and its bounds."""
    low = high = spared_log = 0.0
    known = True
    for certain, chance, term_low, term_high in terms:
        if certain:
            return SURE
        low = max(low, term_low)
        high += term_high
        if chance is None:
            known = False
        elif chance >= 1.0:
            spared_log = -math.inf
        else:
            spared_log += math.log1p(-chance)
    high = min(1.0, high)
    if spared_log == -math.inf:
        return Term(False, 1.0, low, high)
    return Term(False, -math.expm1(spared_log) if known else None, low, high)


def _repeated(term: Term, pieces: float) -> Term:
    """Give the chance that at least one of several pieces has it, and its bounds."""
    certain, chance, low, high = term
    if pieces == 1.0 or certain or high == 0.0:
        return term
    if math.isinf(pieces):
        return Term(certain, 1.0 if chance == 1.0 else None, low, 1.0)
    if chance is not None and chance < 1.0:
        chance = -math.expm1(pieces * math.log1p(-chance))
    return Term(certain, chance, low, min(1.0, pieces * high))


def _of(exposed: Exposed) -> Term:
    """Give what a parent brings by itself; nothing if it is gone from the serial."""
    if exposed.removed or not exposed.reached:
        return NOTHING
    return Term(exposed.certain, exposed.chance, exposed.low, exposed.high)


def _term(items: Sequence[Exposed], group: Group) -> Term:
    """Give what one group contributes."""
    mixing, _, members, _ = group
    if mixing is Mixing.EACH:
        parent, _, pieces = members[0]
        return _repeated(_of(items[parent]), pieces)
    if mixing is Mixing.BLEND:
        return _union([_repeated(_of(items[parent]), pieces) for parent, _, pieces in members])
    return _alternatives(items, group)


def _alternatives(items: Sequence[Exposed], group: Group) -> Term:
    """Give what a group of alternatives contributes, weighted by share.

    `either`: all pieces of the group come from the same parent; `one-of`: each from its own.
    """
    mixing, complete, members, per = group
    terms = [_of(items[parent]) for parent, _, _ in members]
    if all(term.high == 0.0 for term in terms):
        return NOTHING
    if mixing is Mixing.EITHER:
        terms = [_repeated(term, m[2]) for term, m in zip(terms, members, strict=True)]
    shares = [share for _, share, _ in members if share is not None]
    certain = complete and all(term.certain for term in terms)
    chance: float | None
    if len(shares) < len(members):
        lows = [term.low for term in terms] + ([] if complete else [0.0])
        chance, low, high = None, min(lows), max(term.high for term in terms)
    else:
        chances = [term.chance for term in terms if term.chance is not None]
        is_known = len(chances) == len(terms)
        chance = min(1.0, _weighted(shares, chances)) if is_known else None
        low = _weighted(shares, [term.low for term in terms])
        high = min(1.0, _weighted(shares, [term.high for term in terms]))
    term = Term(certain, chance, min(low, high), high)
    return _repeated(term, per) if mixing is Mixing.ONE_OF else term


def _weighted(shares: Sequence[float], values: Sequence[float]) -> float:
    return sum(share * value for share, value in zip(shares, values, strict=True))


def _content(reach: Reach, items: Sequence[Exposed], groups: Sequence[Group]) -> float | None:
    """Give the expected fraction of the source in an item: the highest among its components."""
    best: float | None = None
    is_known = True
    for mixing, _, members, _ in groups:
        if mixing is Mixing.FORMER or not reach.is_material(members[0][0]):
            continue
        reached = [(items[p].content, share) for p, share, _ in members if items[p].reached]
        parts = [part * share for part, share in reached if part is not None and share is not None]
        if len(parts) < len(reached):
            is_known = False
        elif reached:
            best = max(best or 0.0, min(sum(parts), 1.0))
    # a component of which nothing is known may hold more than all others
    return best if is_known or best == 1.0 else None
