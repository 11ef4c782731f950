"""How many parts come out of a bar, in whole micrometres so that no part is lost to rounding."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decimal import Decimal

__all__ = ["BarCut", "cut_bar", "micrometres", "parts_per_bar"]

_LONGEST_MM = 10**9


@dataclass(frozen=True, slots=True)
class BarCut:
    """What becomes of one bar.

    Attributes:
        parts: Whole parts cut from it.
        used_um: Length of the parts with their cut-offs and facings.
        left_um: Length that is left, the remnant that the machine keeps included.
    """

    parts: int
    used_um: int
    left_um: int


def micrometres(length_mm: Decimal) -> int:
    """Turn a length in millimetres into micrometres.

    Raises:
        ValueError: Not a number, negative, above 10^9 mm, or finer than a micrometre.

    Example:
        >>> from decimal import Decimal
        >>> micrometres(Decimal("12.4"))
        12400
    """
    if not length_mm.is_finite() or not 0 <= length_mm <= _LONGEST_MM:
        message = f"length {length_mm} mm must be a number from 0 to {_LONGEST_MM}"
        raise ValueError(message)
    numerator, denominator = length_mm.as_integer_ratio()
    length_um, finer = divmod(numerator * 1000, denominator)
    if finer:
        message = (
            f"length {length_mm} mm has more than three decimals; "
            "bars are counted in whole micrometres, round it to 0.001 mm"
        )
        raise ValueError(message)
    return length_um


def parts_per_bar(
    bar_um: int, part_um: int, *, cutoff_um: int, facing_um: int, remnant_um: int
) -> int:
    """Count the whole parts that one bar gives.

    Args:
        bar_um: Length of the bar, >= 0.
        part_um: Length of one finished part, > 0.
        cutoff_um: Width of the cut, per part, >= 0.
        facing_um: Turned off the face, per part, >= 0.
        remnant_um: Least length that stays in the machine, >= 0.

    Returns:
        floor((bar - remnant) / (part + cutoff + facing)), 0 if the remnant is the whole bar.

    Raises:
        ValueError: A length is negative, or the part has none.

    Source: own formula; common practice, no source.

    Example:
        >>> parts_per_bar(
        ...     3_000_000, 11_300, cutoff_um=3_000, facing_um=300, remnant_um=80_000
        ... )
        200
    """
    if part_um <= 0:
        message = f"a part of {part_um} micrometres cannot be cut; its length must be above zero"
        raise ValueError(message)
    if min(bar_um, cutoff_um, facing_um, remnant_um) < 0:
        message = "bar, cut-off, facing and remnant must not be negative"
        raise ValueError(message)
    return max(0, bar_um - remnant_um) // (part_um + cutoff_um + facing_um)


def cut_bar(
    bar_mm: Decimal,
    part_mm: Decimal,
    *,
    cutoff_mm: Decimal,
    facing_mm: Decimal,
    remnant_mm: Decimal,
) -> BarCut:
    """Plan the cutting of one bar from lengths in millimetres.

    Args:
        bar_mm, part_mm, cutoff_mm, facing_mm, remnant_mm: As for `parts_per_bar`, with at most
            three decimals.

    Returns:
        The parts and where the length goes; `used_um + left_um` is the whole bar.

    Raises:
        ValueError: A length is negative or finer than a micrometre, or the part has none.

    Example:
        >>> from decimal import Decimal
        >>> cut_bar(
        ...     Decimal(3000), Decimal("12.4"),
        ...     cutoff_mm=Decimal(2), facing_mm=Decimal("0.2"), remnant_mm=Decimal(80),
        ... )
        BarCut(parts=200, used_um=2920000, left_um=80000)
    """
    bar_um, part_um = micrometres(bar_mm), micrometres(part_mm)
    cutoff_um, facing_um = micrometres(cutoff_mm), micrometres(facing_mm)
    parts = parts_per_bar(
        bar_um,
        part_um,
        cutoff_um=cutoff_um,
        facing_um=facing_um,
        remnant_um=micrometres(remnant_mm),
    )
    used_um = parts * (part_um + cutoff_um + facing_um)
    return BarCut(parts, used_um, bar_um - used_um)
