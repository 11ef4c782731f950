"""Fisher's exact test: whether units that failed have something more often than others."""

from __future__ import annotations

from fractions import Fraction

from lotkin.core.quality.sampling import acceptance

__all__ = ["fisher_greater"]


def fisher_greater(with_it: tuple[int, int], without: tuple[int, int]) -> Fraction:
    """Give the chance to see so many failures, or more, among those that have it, by chance alone.

    Args:
        with_it: Failed and sound units that have it.
        without: Failed and sound units that do not.

    Returns:
        One-sided p value, exact.

    Raises:
        ValueError: A count is below zero.

    Source: Fisher, The Design of Experiments (1935), chapter 2: the lady tasting tea.

    Example:
        >>> fisher_greater((4, 0), (0, 4)), fisher_greater((3, 1), (1, 3))
        (Fraction(1, 70), Fraction(17, 70))
    """
    counts = (*with_it, *without)
    if min(counts) < 0:
        raise ValueError(f"no table of counts: {counts}")
    failed = with_it[0] + without[0]
    if with_it[0] == 0:
        return Fraction(1)
    return 1 - acceptance(sum(counts), sum(with_it), failed, with_it[0] - 1)
