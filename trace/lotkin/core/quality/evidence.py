"""What a sample proves: the range in which the share of bad ones lies, and what may be left."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.quality.sampling import acceptance

if TYPE_CHECKING:
    from collections.abc import Callable
    from fractions import Fraction

__all__ = ["Bounds", "most_bad", "share_at_least", "share_at_most", "share_bounds"]

HALVINGS = 200
"""More than a float between 0 and 1 can be halved into before its neighbours are left."""


class Bounds(NamedTuple):
    """Between which shares the true one lies."""

    low: float
    high: float


def share_bounds(bad: int, checked: int, confidence: float) -> Bounds:
    """Give between which shares of bad ones a process lies, with a risk on both sides.

    Args:
        bad: Bad ones found.
        checked: How many were checked, at least one.
        confidence: How sure the range is to hold, above 0 and below 1.

    Raises:
        ValueError: More are bad than were checked, or the confidence is outside of its limits.

    Source: Clopper and Pearson, Biometrika 26 (1934) 404-413.

    Example:
        >>> [round(share, 5) for share in share_bounds(4, 20, 0.95)]
        [0.05733, 0.43661]
    """
    each_side = (1 + confidence) / 2
    return Bounds(share_at_least(bad, checked, each_side), share_at_most(bad, checked, each_side))


def share_at_most(bad: int, checked: int, confidence: float) -> float:
    """Give the share of bad ones that a process has at most.

    The largest with which so few bad ones would still be found with a chance of 1 - confidence.

    >>> round(share_at_most(0, 59, 0.95), 5)
    0.04951
    """
    _check(bad, checked, confidence)
    risk = 1 - confidence
    if bad == checked:
        return 1.0
    if bad == 0:
        return -math.expm1(math.log(risk) / checked)
    return _crossing(lambda share: _tail(range(bad + 1), checked, share) > risk)


def share_at_least(bad: int, checked: int, confidence: float) -> float:
    """Give the share of bad ones that a process has at least.

    >>> share_at_least(0, 59, 0.95)
    0.0
    """
    _check(bad, checked, confidence)
    return 1.0 - share_at_most(checked - bad, checked, confidence)


def most_bad(lot: int, checked: int, bad: int, confidence: Fraction) -> int:
    """Give how many pieces of a lot are bad at most, those found among them.

    Args:
        lot: Pieces in the lot, those checked included.
        checked: How many were checked, drawn at random.
        bad: Bad ones among them.
        confidence: How sure it is to be, above 0 and below 1.

    Raises:
        ValueError: More are bad than were checked, or checked than there are.

    Source: hypergeometric distribution, inverted as by Clopper and Pearson.

    Example:
        >>> from fractions import Fraction
        >>> most_bad(50, 22, 0, Fraction(95, 100))
        4
    """
    if not 0 <= checked <= lot:
        raise ValueError(f"{checked} checked of {lot} pieces")
    if checked == 0:
        return lot
    _check(bad, checked, float(confidence))
    low, high = bad, lot - (checked - bad)
    while low < high:
        middle = (low + high + 1) // 2
        if acceptance(lot, middle, checked, bad) > 1 - confidence:
            low = middle
        else:
            high = middle - 1
    return low


def _check(bad: int, checked: int, confidence: float) -> None:
    if not 0 <= bad <= checked or checked < 1:
        raise ValueError(f"{bad} bad ones of {checked} checked")
    if not 0 < confidence < 1:
        raise ValueError(f"a confidence of {confidence}; it lies between 0 and 1")


def _crossing(holds: Callable[[float], bool]) -> float:
    """Find the share up to which something holds, by halving."""
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if holds(middle):
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _tail(counts: range, checked: int, share: float) -> float:
    """Give the binomial chance of any of some counts."""
    log_bad, log_good = math.log(share), math.log1p(-share)
    log_all = math.lgamma(checked + 1)
    return math.fsum(
        math.exp(
            log_all
            - math.lgamma(k + 1)
            - math.lgamma(checked - k + 1)
            + k * log_bad
            + (checked - k) * log_good
        )
        for k in counts
    )
