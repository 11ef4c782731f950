"""How many pieces of a suspect lot to check, and what is left at risk: exact, no approximation.

Small lots need the hypergeometric distribution: pieces are drawn without putting them back. The
binomial one would ask for more pieces than there are.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

__all__ = [
    "LARGEST_LOT",
    "MOST_ALLOWED",
    "SamplePlan",
    "acceptance",
    "bad_at_share",
    "sample_plan",
    "success_run",
]

LARGEST_LOT = 1_000_000
"""Pieces; above this the exact numbers get too long to wait for."""

MOST_ALLOWED = 100
"""Bad pieces that a sample may have at most and still pass; no plan in use allows more."""

NEAR = 1e-9
"""Relative distance from a whole number within which floating point does not decide."""

DECIDED_EXACTLY = 200_000
"""Checks up to which powers are compared as whole numbers; above, the larger count is given."""


@dataclass(frozen=True, slots=True)
class SamplePlan:
    """How many pieces to check.

    Attributes:
        lot: Pieces in the lot.
        bad: The lot must not pass with this many bad pieces, or more.
        allowed: Bad pieces in the sample with which the lot still passes.
        confidence: How sure that is to be, above 0 and below 1.
        sample: Pieces to check.
        risk: Chance that the lot passes although `bad` pieces of it are bad; at most
            1 - confidence, and less with more bad pieces.
    """

    lot: int
    bad: int
    allowed: int
    confidence: Fraction
    sample: int
    risk: Fraction

    @property
    def is_whole_lot(self) -> bool:
        """Tell whether every piece has to be checked."""
        return self.sample == self.lot

    def passes_with(self, bad: int) -> Fraction:
        """Give the chance that the lot passes with some number of bad pieces in it."""
        return acceptance(self.lot, bad, self.sample, self.allowed)


def acceptance(lot: int, bad: int, sample: int, allowed: int = 0) -> Fraction:
    """Give the chance that a sample has no more bad pieces than are allowed.

    Args:
        lot: Pieces in the lot.
        bad: Bad ones among them.
        sample: Pieces checked, drawn at random without putting them back.
        allowed: Bad pieces in the sample with which the lot passes.

    Raises:
        ValueError: A count is below zero, or more than the lot has.

    Source: hypergeometric distribution; sampling by attributes as in ISO 2859-2.

    Example:
        >>> acceptance(50, 5, 13)
        Fraction(62271, 302680)
    """
    if not (0 <= bad <= lot and 0 <= sample <= lot and allowed >= 0):
        raise ValueError(f"no sample of {sample} from {lot} pieces, {bad} of them bad")
    # it does not matter which of the two is drawn: the smaller one makes the shorter numbers
    few, many = sorted((bad, sample))
    least = max(0, few + many - lot)
    if allowed < least:
        return Fraction(0)
    ways = math.comb(many, least) * math.comb(lot - many, few - least)
    total = ways
    for k in range(least, min(allowed, few)):
        ways = ways * (many - k) * (few - k) // ((k + 1) * (lot - many - few + k + 1))
        total += ways
    return Fraction(total, math.comb(lot, few))


def sample_plan(lot: int, bad: int, confidence: Fraction, allowed: int = 0) -> SamplePlan:
    """Find the smallest sample that clears a lot of some number of bad pieces or more.

    Args:
        lot: Pieces in the lot, from 1 to `LARGEST_LOT`.
        bad: The lot must not pass with so many bad pieces, from 1 to `lot`.
        confidence: How sure that is to be, above 0 and below 1.
        allowed: Bad pieces in the sample with which the lot still passes, below `bad` and at most
            `MOST_ALLOWED`.

    Raises:
        ValueError: An argument is outside of these limits.

    Example:
        >>> sample_plan(50, 5, Fraction(95, 100)).sample
        22
    """
    if not 1 <= lot <= LARGEST_LOT:
        raise ValueError(f"a lot of {lot} pieces; it is to have 1 to {LARGEST_LOT}")
    if not 1 <= bad <= lot:
        raise ValueError(f"{bad} bad pieces in a lot of {lot}")
    if not 0 <= allowed < bad or allowed > MOST_ALLOWED:
        raise ValueError(f"{allowed} bad pieces allowed in a sample, {bad} too many in the lot")
    if not 0 < confidence < 1:
        raise ValueError(f"a confidence of {confidence}; it lies between 0 and 1")
    risk = 1 - confidence
    # upwards in doubles first, so that no number gets longer than it has to be
    high = allowed + 1
    while high < lot and acceptance(lot, bad, high, allowed) > risk:
        high = min(lot, 2 * high)
    low = high // 2
    while low < high:
        middle = (low + high) // 2
        if acceptance(lot, bad, middle, allowed) > risk:
            low = middle + 1
        else:
            high = middle
    return SamplePlan(lot, bad, allowed, confidence, high, acceptance(lot, bad, high, allowed))


def bad_at_share(lot: int, share: Fraction) -> int:
    """Give the number of pieces that makes a share of a lot or more; at least one.

    >>> bad_at_share(30, Fraction(5, 100))
    2
    """
    return min(lot, max(1, math.ceil(share * lot)))


def success_run(confidence: Fraction, reliability: Fraction) -> int:
    """Give how many checks without a failure show a reliability, of a process without an end.

    Args:
        confidence: How sure it is to be, above 0 and below 1.
        reliability: Share of good ones that is to be shown, above 0 and below 1.

    Raises:
        ValueError: An argument is outside of these limits.

    Source: success-run theorem, n = ln(1 - C) / ln R rounded up; any handbook of reliability.

    Example:
        >>> success_run(Fraction(95, 100), Fraction(95, 100))
        59
    """
    if not (0 < confidence < 1 and 0 < reliability < 1):
        raise ValueError("confidence and reliability lie between 0 and 1")
    risk = 1 - confidence
    exact = _log(risk) / _log(reliability)
    nearest = max(1, round(exact))
    if abs(exact - nearest) > NEAR * nearest:
        return math.ceil(exact)
    if nearest > DECIDED_EXACTLY or reliability**nearest > risk:
        return nearest + 1
    return nearest


def _log(share: Fraction) -> float:
    return math.log1p(-float(1 - share)) if share > Fraction(1, 2) else math.log(share)
