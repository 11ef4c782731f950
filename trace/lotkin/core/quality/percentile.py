"""Where a reading stands among those of its siblings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

__all__ = ["Standing", "standing_of"]


@dataclass(frozen=True, slots=True)
class Standing:
    """The place of one value in a population that it belongs to.

    Attributes:
        rank: 1 for the lowest; equal values share the lowest rank of them.
        of: How many values there are, this one included.
        percentile: Percent of the values below it, and half of those equal to it.
        low, median, high: Of the population.
    """

    rank: int
    of: int
    percentile: float
    low: Decimal
    median: Decimal
    high: Decimal


def standing_of(value: Decimal, others: Sequence[Decimal]) -> Standing:
    """Place a value among the others.

    Source: percentile rank (below + half of the equal ones) / all, as `percentileofscore` of scipy
    gives it with `kind="mean"`. Complexity: O(n log n).
    """
    values = sorted([*others, value])
    below = sum(1 for other in values if other < value)
    equal = sum(1 for other in values if other == value)
    n = len(values)
    middle = (values[(n - 1) // 2] + values[n // 2]) / 2
    percentile = round(100 * (below + equal / 2) / n, 2)
    return Standing(below + 1, n, percentile, values[0], middle, values[-1])
