"""Adjusting p values where many things are tested at once."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["adjusted"]


def adjusted(p_values: Sequence[Fraction]) -> list[Fraction]:
    """Adjust p values so that those up to a level hold that share of false findings at most.

    Args:
        p_values: m values from 0 to 1 in any order, of all that was tested.

    Returns:
        m values in the same order, none above 1.

    Source: Benjamini and Hochberg, J. R. Statist. Soc. B 57 (1995) 289-300.

    Example:
        >>> adjusted([Fraction(1, 100), Fraction(4, 100)])
        [Fraction(1, 50), Fraction(1, 25)]
    """
    count = len(p_values)
    least = Fraction(1)
    found = [least] * count
    order = sorted(range(count), key=lambda i: p_values[i])
    for rank in range(count, 0, -1):
        i = order[rank - 1]
        least = min(least, p_values[i] * count / rank)
        found[i] = least
    return found
