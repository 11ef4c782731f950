"""GTINs: the numbers of trade items, with their check digit."""

from __future__ import annotations

import re

__all__ = ["gtin_problem"]

_LENGTHS = (8, 12, 13, 14)


def gtin_problem(text: str) -> str:
    """Say what is wrong with a GTIN; "" if nothing is.

    Args:
        text: GTIN-8, GTIN-12, GTIN-13 or GTIN-14 with its check digit, digits only.

    Source: GS1 General Specifications, section 7.9 (section number from memory): weights 3, 1, 3 …
    from the digit next to the check digit; check digit = (10 - sum mod 10) mod 10.

    Example:
        >>> gtin_problem("9521234543213")
        ''
        >>> gtin_problem("9521234543214")
        'has a wrong check digit; the last digit should be 3'
    """
    if not re.fullmatch(r"[0-9]+", text) or len(text) not in _LENGTHS:
        return "must be a GTIN: 8, 12, 13 or 14 digits without spaces"
    digits = [int(digit) for digit in reversed(text)]
    weighted = 3 * sum(digits[1::2]) + sum(digits[2::2])
    check = -weighted % 10
    if digits[0] != check:
        return f"has a wrong check digit; the last digit should be {check}"
    return ""
