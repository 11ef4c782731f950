"""Shares in percent, as people read them: never none or all where it is neither."""

from __future__ import annotations

__all__ = ["in_percent"]


def in_percent(share: float) -> str:
    """Write a share (0 to 1) in percent without the sign, exact enough near both ends.

    >>> in_percent(0.25), in_percent(0.004), in_percent(1e-9), in_percent(0.99996)
    ('25', '0.4', 'under 0.01', 'over 99.99')
    """
    if share <= 0:
        return "0"
    if share >= 1:
        return "100"
    if share < 0.0001:
        return "under 0.01"
    if share > 0.9999:
        return "over 99.99"
    nearest_end = min(share, 1 - share)
    decimals = 0 if nearest_end >= 0.1 else 1 if nearest_end >= 0.01 else 2
    text = f"{share * 100:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if decimals else text
