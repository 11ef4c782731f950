"""How surely, and how much, one item contains each of its ancestors: all asked about at once.

The same rules as in `lotkin.core.exposure.exposure`, item by item in the order of the graph, but
with a column for each ancestor instead of a pass for each. A chance or content that is not known is
NaN here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from lotkin.core.exposure.exposure import NOT_REACHED, Exposed
from lotkin.core.values.kinds import Mixing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from lotkin.core.exposure.reach import Group, Reach

    Floats = NDArray[np.float64]
    Flags = NDArray[np.bool_]

__all__ = ["expose_to_each"]

AT_ONCE = 4_000_000
"""Cells (items times ancestors) that are kept at a time; 34 bytes each."""


@dataclass(slots=True)
class _Terms:
    """What something contributes, for each ancestor; see `lotkin.core.exposure.exposure.Term`."""

    certain: Flags
    chance: Floats
    low: Floats
    high: Floats


def expose_to_each(reach: Reach, subject: int) -> list[Exposed]:
    """Compute how an item is exposed to every item of a reach.

    Args:
        reach: n items and m links, all ancestors of the subject among them.
        subject: Position of the item.

    Returns:
        n records, one for each item asked about; that of the subject itself is a source's.

    Complexity: O(n * (n + m)), in steps over n columns at a time.
    """
    size = len(reach)
    width = max(1, AT_ONCE // max(1, size))
    found: list[Exposed] = []
    for begin in range(0, size, width):
        sources = np.arange(begin, min(size, begin + width))
        found += _Pass(reach, sources).at(subject)
    return found


class _Pass:
    """One pass over the graph with a column for each of some sources."""

    def __init__(self, reach: Reach, sources: NDArray[np.int64]) -> None:
        self._reach, self._sources = reach, sources
        size, width = len(reach), len(sources)
        self._nothing = np.zeros(width)
        self._column = {int(source): k for k, source in enumerate(sources)}
        self._has_content = np.array([reach.is_material(int(s)) for s in sources], bool)
        self.reached = np.zeros((size, width), bool)
        self.removed = np.zeros((size, width), bool)
        self.certain = np.zeros((size, width), bool)
        self.chance = np.zeros((size, width))
        self.low = np.zeros((size, width))
        self.high = np.zeros((size, width))
        self.content = np.full((size, width), np.nan)
        heirs, groups = reach.heirs(), reach.groups()
        for i in reach.order():
            if heirs[i] >= 0:
                self._take_over(i, heirs[i])
            else:
                self._combine(i, groups[i])
            column = self._column.get(i)
            if column is not None:
                self._be_source(i, column)

    def at(self, i: int) -> list[Exposed]:
        """Give the records of an item, one for each source."""
        chance, content = _listed(self.chance[i]), _listed(self.content[i])
        return [
            Exposed(*row) if row[0] else NOT_REACHED
            for row in zip(
                self.reached[i].tolist(),
                self.removed[i].tolist(),
                self.certain[i].tolist(),
                chance,
                self.low[i].tolist(),
                self.high[i].tolist(),
                content,
                strict=True,
            )
        ]

    def _be_source(self, i: int, column: int) -> None:
        self.reached[i, column], self.removed[i, column] = True, False
        self.certain[i, column] = True
        self.chance[i, column] = self.low[i, column] = self.high[i, column] = 1.0
        self.content[i, column] = 1.0 if self._has_content[column] else np.nan

    def _take_over(self, i: int, parent: int) -> None:
        for table in (
            self.reached, self.removed, self.certain,
            self.chance, self.low, self.high, self.content,
        ):  # fmt: skip
            table[i] = table[parent]

    def _combine(self, i: int, groups: Sequence[Group]) -> None:
        live, former = self._ways(groups)
        self.reached[i] = live | former
        self.removed[i] = former & ~live
        terms = [self._term(group) for group in groups if group[0] is not Mixing.FORMER]
        if terms:
            term = terms[0] if len(terms) == 1 else self._union(terms)
            sure = term.certain
            self.certain[i] = live & sure
            self.chance[i] = np.where(live, np.where(sure, 1.0, term.chance), 0.0)
            self.low[i] = np.where(live, np.where(sure, 1.0, term.low), 0.0)
            self.high[i] = np.where(live, np.where(sure, 1.0, term.high), 0.0)
        if self._reach.is_material(i):
            inside = np.where(live, self._content(groups), np.where(former, 0.0, np.nan))
            self.content[i] = np.where(self._has_content, inside, np.nan)

    def _ways(self, groups: Sequence[Group]) -> tuple[Flags, Flags]:
        live = np.zeros(len(self._sources), bool)
        former = np.zeros(len(self._sources), bool)
        for mixing, _, members, _ in groups:
            for parent, _, _ in members:
                reached, removed = self.reached[parent], self.removed[parent]
                if mixing is Mixing.FORMER:
                    former |= reached
                else:
                    live |= reached & ~removed
                    former |= reached & removed
        return live, former

    def _of(self, parent: int) -> _Terms:
        # what is not reached, or removed, has zeros everywhere already
        return _Terms(
            self.certain[parent], self.chance[parent], self.low[parent], self.high[parent]
        )

    def _term(self, group: Group) -> _Terms:
        mixing, _, members, _ = group
        if mixing is Mixing.EACH:
            parent, _, pieces = members[0]
            return _repeated(self._of(parent), pieces)
        if mixing is Mixing.BLEND:
            return self._union([_repeated(self._of(p), pieces) for p, _, pieces in members])
        return self._alternatives(group)

    def _union(self, terms: Sequence[_Terms]) -> _Terms:
        """Give the chance of at least one, as `exposure._union` does."""
        certain = np.zeros(len(self._sources), bool)
        low, high, spared = self._nothing, self._nothing, self._nothing
        unknown = np.zeros(len(self._sources), bool)
        ends = np.zeros(len(self._sources), bool)
        for term in terms:
            certain = certain | term.certain
            low = np.maximum(low, term.low)
            high = high + term.high
            is_unknown, is_sure = np.isnan(term.chance), term.chance >= 1.0
            unknown = unknown | is_unknown
            ends = ends | is_sure
            spared = spared + np.log1p(-np.where(is_unknown | is_sure, 0.0, term.chance))
        chance = np.where(ends, 1.0, np.where(unknown, np.nan, -np.expm1(spared)))
        high = np.minimum(1.0, high)
        return _Terms(
            certain,
            np.where(certain, 1.0, chance),
            np.where(certain, 1.0, low),
            np.where(certain, 1.0, high),
        )

    def _alternatives(self, group: Group) -> _Terms:
        """Give what a group of alternatives contributes, as `exposure._alternatives` does."""
        mixing, complete, members, per = group
        terms = [self._of(parent) for parent, _, _ in members]
        is_nothing = np.logical_and.reduce([term.high == 0.0 for term in terms])
        if mixing is Mixing.EITHER:
            terms = [_repeated(term, m[2]) for term, m in zip(terms, members, strict=True)]
        shares = [share for _, share, _ in members if share is not None]
        certain = np.logical_and.reduce([term.certain for term in terms]) & complete
        if len(shares) < len(members):
            lows = [term.low for term in terms] + ([] if complete else [self._nothing])
            low, high = np.minimum.reduce(lows), np.maximum.reduce([t.high for t in terms])
            chance = np.full(len(self._sources), np.nan)
        else:
            pairs = list(zip(shares, terms, strict=True))
            chance = np.minimum(1.0, sum((s * t.chance for s, t in pairs), self._nothing))
            low = sum((s * t.low for s, t in pairs), self._nothing)
            high = np.minimum(1.0, sum((s * t.high for s, t in pairs), self._nothing))
        term = _Terms(certain, np.where(is_nothing, 0.0, chance), np.minimum(low, high), high)
        term.low = np.where(is_nothing, 0.0, term.low)
        return _repeated(term, per) if mixing is Mixing.ONE_OF else term

    def _content(self, groups: Sequence[Group]) -> Floats:
        """Give the expected fraction of each source, as `exposure._content` does."""
        best = np.full(len(self._sources), -1.0)
        known = np.ones(len(self._sources), bool)
        for mixing, _, members, _ in groups:
            if mixing is Mixing.FORMER or not self._reach.is_material(members[0][0]):
                continue
            some = np.zeros(len(self._sources), bool)
            missing = np.zeros(len(self._sources), bool)
            total = self._nothing
            for parent, share, _ in members:
                reached, content = self.reached[parent], self.content[parent]
                some = some | reached
                lacks = np.isnan(content) if share is not None else np.ones_like(reached)
                missing = missing | (reached & lacks)
                total = total + np.where(reached & ~lacks, content * (share or 0.0), 0.0)
            known = known & ~missing
            best = np.where(some & ~missing, np.maximum(best, np.minimum(total, 1.0)), best)
        return np.where((best >= 0.0) & (known | (best == 1.0)), best, np.nan)


def _listed(values: Floats) -> list[float | None]:
    return [None if math.isnan(value) else value for value in values.tolist()]


def _repeated(term: _Terms, pieces: float) -> _Terms:
    """Give the chance that at least one of several pieces has it, as `exposure._repeated` does."""
    if pieces == 1.0:
        return term
    some = ~term.certain & (term.high > 0.0)
    if np.isinf(pieces):
        chance = np.where(term.chance == 1.0, 1.0, np.nan)
        high = np.ones_like(term.high)
    else:
        open_ = some & (term.chance < 1.0)
        more = -np.expm1(pieces * np.log1p(-np.where(open_, term.chance, 0.0)))
        chance = np.where(open_, more, term.chance)
        high = np.minimum(1.0, pieces * term.high)
    return _Terms(
        term.certain,
        np.where(some, chance, term.chance),
        term.low,
        np.where(some, high, term.high),
    )
