"""Exposure: how surely, and how much, reached items contain what was asked about.

Membership and certainty follow from the links alone; chance and content are numbers beside them
and never decide who belongs. Formulas: the project's model of exposure (docs/explanation).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.kinds import Mixing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.reach import Group, Reach

__all__ = ["Exposure", "expose"]

Term = tuple[bool, float | None, float, float]
"""certain, chance (None if not known), low, high."""

CERTAIN: Term = (True, 1.0, 1.0, 1.0)


@dataclass(slots=True)
class Exposure:
    """Columns beside the nodes of a reach, each of its length n.

    Attributes:
        reached: Whether a link leads there from one of the sources.
        removed: Reached only through an old state of the same serial.
        certain: Whether every piece of it contains the source, by the links alone.
        chance: Probability that a given piece does; None if a share is not known.
        low, high: Bounds of that probability which hold however its terms depend on each other.
        content: Expected fraction of the source in its material; None where that means nothing.
    """

    reached: list[bool]
    removed: list[bool]
    certain: list[bool]
    chance: list[float | None]
    low: list[float]
    high: list[float]
    content: list[float | None]


def expose(reach: Reach, sources: Sequence[int]) -> Exposure:
    """Compute the exposure of everything in a reach to some of its items.

    Args:
        reach: n items and m links.
        sources: Positions of the items whose presence is asked for (any of them).

    Returns:
        Columns of length n; for a source itself chance and content are 1.

    Complexity: O(n + m).
    """
    n = len(reach)
    result = Exposure(
        [False] * n, [False] * n, [False] * n, [0.0] * n, [0.0] * n, [0.0] * n, [None] * n
    )
    groups = reach.groups()
    sourced = [False] * n
    for i in sources:
        sourced[i] = True
    has_content = all(reach.is_material(i) for i in sources)
    material = [reach.is_material(i) for i in range(n)] if has_content else []
    for i in reach.order():
        if sourced[i]:
            _be_source(result, i, 1.0 if has_content else None)
            continue
        of_item = groups[i]
        live, former = _ways(result, of_item)
        if live:
            result.reached[i] = True
            _combine(result, i, of_item)
            if has_content and material[i]:
                result.content[i] = _content(result, of_item, material)
        elif former:
            result.reached[i] = result.removed[i] = True
            if has_content and material[i]:
                result.content[i] = 0.0
    return result


def _ways(result: Exposure, groups: Sequence[Group]) -> tuple[bool, bool]:
    """Tell whether links lead here from a source, and whether only by way of an old state."""
    live = former = False
    for mixing, _, members, _ in groups:
        for parent, _, _ in members:
            if result.reached[parent]:
                if mixing is Mixing.FORMER or result.removed[parent]:
                    former = True
                else:
                    live = True
    return live, former


def _be_source(result: Exposure, i: int, content: float | None) -> None:
    result.reached[i] = result.certain[i] = True
    result.chance[i] = result.low[i] = result.high[i] = 1.0
    result.content[i] = content


def _combine(result: Exposure, i: int, groups: Sequence[Group]) -> None:
    """Combine the groups into an item: it is spared only if every group spares it."""
    if len(groups) == 1:
        certain, chance, low, high = _term(result, groups[0])
    else:
        terms = [_term(result, group) for group in groups if group[0] is not Mixing.FORMER]
        certain, chance, low, high = _union(terms)
    if certain:
        certain, chance, low, high = CERTAIN
    result.certain[i] = certain
    result.chance[i] = chance
    result.low[i] = low
    result.high[i] = high


def _union(terms: Sequence[Term]) -> Term:
    """Give the chance of at least one, taking the terms as independent, and its bounds."""
    certain = False
    low = high = spared_log = 0.0
    known = True
    for is_certain, chance, term_low, term_high in terms:
        certain = certain or is_certain
        low = max(low, term_low)
        high += term_high
        if chance is None:
            known = False
        elif chance >= 1.0:
            spared_log = -math.inf
        else:
            spared_log += math.log1p(-chance)
    high = min(1.0, high)
    if certain or spared_log == -math.inf:
        return certain, 1.0, max(low, 1.0 if certain else low), high
    return certain, (-math.expm1(spared_log) if known else None), low, high


def _repeated(chance: float | None, pieces: float) -> float | None:
    """Give the chance that at least one of several pieces has it."""
    if chance is None or pieces == 1.0:
        return chance
    if chance >= 1.0:
        return 1.0
    return -math.expm1(pieces * math.log1p(-chance))


def _term(result: Exposure, group: Group) -> Term:
    """Give what one group contributes."""
    mixing, _, members, per = group
    if mixing is Mixing.EACH:
        parent, _, pieces = members[0]
        if result.removed[parent]:
            return False, 0.0, 0.0, 0.0
        if pieces == 1.0:
            return (
                result.certain[parent],
                result.chance[parent],
                result.low[parent],
                result.high[parent],
            )
        return (
            result.certain[parent],
            _repeated(result.chance[parent], pieces),
            result.low[parent],
            min(1.0, pieces * result.high[parent]),
        )
    if mixing is Mixing.BLEND:
        return _union(
            [
                (result.certain[p], result.chance[p], result.low[p], result.high[p])
                for p, _, _ in members
                if result.reached[p] and not result.removed[p]
            ]
        )
    if mixing is Mixing.FORMER:
        return False, 0.0, 0.0, 0.0
    return _alternatives(result, group, together=mixing is Mixing.EITHER, per=per)


def _alternatives(result: Exposure, group: Group, *, together: bool, per: float) -> Term:
    """Give what a group of alternatives contributes, weighted by share.

    Args:
        result: The columns so far.
        group: A `one-of` or `either` group.
        together: Whether all pieces come from the same parent (`either`).
        per: Pieces of the group in one piece of the child.
    """
    _, complete, members, _ = group
    certain = complete
    chance: float | None = 0.0
    low = high = 0.0
    lows: list[float] = [] if complete else [0.0]
    highs: list[float] = [0.0]
    for parent, share, pieces in members:
        gone = result.removed[parent] or not result.reached[parent]
        certain = certain and result.certain[parent] and not gone
        one: float | None = 0.0 if gone else result.chance[parent]
        one_low = 0.0 if gone else result.low[parent]
        one_high = 0.0 if gone else result.high[parent]
        if together:
            one = _repeated(one, pieces)
            one_high = min(1.0, pieces * one_high)
        lows.append(one_low)
        highs.append(one_high)
        if share is None:
            chance = None
            continue
        chance = None if chance is None or one is None else chance + share * one
        low += share * one_low
        high += share * one_high
    if any(share is None for _, share, _ in members):
        low, high = min(lows), max(highs)
    if not together and per > 1.0:
        chance = _repeated(chance, per)
        high = per * high
    high = min(1.0, high)
    if chance is not None:
        chance = min(1.0, chance)
    return certain, chance, min(low, high), high


def _content(result: Exposure, groups: Sequence[Group], material: Sequence[bool]) -> float | None:
    """Give the expected fraction of the source in an item: the highest among its components."""
    best: float | None = None
    for mixing, _, members, _ in groups:
        if mixing is Mixing.FORMER or not material[members[0][0]]:
            continue
        value: float | None = 0.0
        for parent, share, _ in members:
            part = result.content[parent] if result.reached[parent] else 0.0
            if value is None or share is None or part is None:
                value = None
            else:
                value += share * part
        if value is not None:
            best = value if best is None else max(best, min(value, 1.0))
    return best
