"""Exact quantities: millionths of a unit as integers, and their allocation without remainder."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin.core.errors import BadQuantity

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["MICRO", "allocate", "from_micro", "is_whole", "show_quantity", "to_micro"]

MICRO = 1_000_000
"""Millionths in one unit (one piece, one kilogram, one metre)."""

LARGEST = 10**12
"""More than any works holds; keeps sums inside 64-bit integers."""


def to_micro(value: Decimal | int, *, record: str = "") -> int:
    """Turn a quantity into millionths.

    Raises:
        BadQuantity: Not finite, more than six decimals, or above 10^12.
    """
    if isinstance(value, int):
        micro = value * MICRO
    else:
        if not value.is_finite():
            raise BadQuantity(str(value), "is not a number", record=record)
        whole = int(value)
        if value == whole:
            micro = whole * MICRO
        else:
            scaled = value.scaleb(6)
            micro = int(scaled)
            if micro != scaled:
                raise BadQuantity(str(value), "has more than six decimals", record=record)
    if abs(micro) > LARGEST * MICRO:
        raise BadQuantity(str(value), "is larger than any works holds", record=record)
    return micro


def from_micro(micro: int) -> Decimal:
    """Turn millionths into a quantity without trailing zeros.

    >>> from_micro(2_500_000)
    Decimal('2.5')
    """
    whole, rest = divmod(micro, MICRO)
    if not rest:
        return Decimal(whole)
    plain = Decimal(micro).scaleb(-6).normalize()
    # 20, not 2E+1: wherever it is written, people read it
    return plain.quantize(Decimal(1)) if plain == plain.to_integral_value() else plain


def is_whole(micro: int) -> bool:
    """Tell whether the quantity is a whole number of units."""
    return micro % MICRO == 0


def show_quantity(micro: int | None, unit: str = "") -> str:
    """Write a quantity for people, e.g. `12.5 kg`; `?` if not recorded."""
    number = "?" if micro is None else format(from_micro(micro), "f")
    return f"{number} {unit}".rstrip()


def allocate(total: int, weights: Sequence[int]) -> list[int]:
    """Divide `total` by `weights` so that the parts sum to it exactly.

    Largest remainders get the odd millionths; ties go to the earlier part.
    All weights zero counts as all equal.

    Args:
        total: Millionths, may be negative.
        weights: n integers >= 0, n >= 1.

    Returns:
        n integers of millionths with the sum `total`.

    Example:
        >>> allocate(10, [1, 1, 1])
        [4, 3, 3]
    """
    if total < 0:
        return [-part for part in allocate(-total, weights)]
    whole = sum(weights)
    if whole == 0:
        weights = [1] * len(weights)
        whole = len(weights)
    parts = [total * weight // whole for weight in weights]
    rest = total - sum(parts)
    by_remainder = sorted(range(len(weights)), key=lambda i: (-(total * weights[i] % whole), i))
    for i in by_remainder[:rest]:
        parts[i] += 1
    return parts
