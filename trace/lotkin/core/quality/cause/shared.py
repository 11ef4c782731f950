"""Which units have an item behind them: for all items of a walk at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.kinds import Mixing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.exposure.reach import Reach

__all__ = ["holders"]


def holders(reach: Reach, units: Sequence[int]) -> list[int]:
    """Give for each item the units that it is behind, as the bits of a whole number.

    An item that was taken out of a unit is not behind it any more: links to an earlier state of
    the same serial are not followed.

    Args:
        reach: What is reached upwards from the units; n items, m links.
        units: Positions of u units; bit k stands for the unit at `units[k]`.

    Returns:
        n numbers; a unit has its own bit too.

    Complexity: O(m) operations on numbers of u bits.
    """
    bits = [0] * len(reach)
    for k, i in enumerate(units):
        bits[i] |= 1 << k
    parents: list[list[int]] = [[] for _ in bits]
    links = reach.links
    for parent, child, mixing in zip(links.parent, links.child, links.mixing, strict=True):
        if parent >= 0 and mixing is not Mixing.FORMER:
            parents[child].append(parent)
    for i in reversed(reach.order()):
        if bits[i]:
            for parent in parents[i]:
                bits[parent] |= bits[i]
    return bits
