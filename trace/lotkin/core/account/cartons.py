"""Cartons that something suspect was in once and is not any more."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.kinds import FAMILY_OF, Family

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping

    from lotkin.core.exposure.exposure import Exposure
    from lotkin.core.exposure.reach import Reach
    from lotkin.core.values.places import Spot

__all__ = ["emptied_cartons"]


def emptied_cartons(
    reach: Reach,
    exposure: Exposure,
    stock: Mapping[int, Mapping[Spot, int]],
    left_out: Collection[int] = frozenset(),
) -> frozenset[int]:
    """Find the cartons of a reach without a suspect in them; one asked about is never among them.

    A carton is a wrapper: it is suspect while a suspect piece is in it, or a carton that is.

    Args:
        reach: What was reached downwards.
        exposure: How it is exposed.
        stock: Position -> spot -> millionths.
        left_out: Positions that a threshold leaves out, which are no suspects.

    Returns:
        Positions of kind carton.
    """
    kinds, codes, starts = reach.nodes.kind, reach.nodes.code, set(reach.starts)
    cartons = {codes[i]: i for i, kind in enumerate(kinds) if kind == "carton"}
    if not cartons:
        return frozenset()
    suspects = (
        i
        for i, kind in enumerate(kinds)
        if FAMILY_OF[kind] is Family.MATERIAL and i not in left_out and not exposure[i].removed
    )
    full = starts & set(cartons.values())
    inner: set[int] = set()
    around = {cartons[code] for code in _around(suspects, stock) if code in cartons} | full
    while around - inner:
        inner |= around
        around = {cartons[code] for code in _around(inner, stock) if code in cartons}
    return frozenset(cartons.values()) - inner


def _around(positions: Iterable[int], stock: Mapping[int, Mapping[Spot, int]]) -> set[str]:
    """Give the codes of what some items are within."""
    return {
        spot.within
        for i in positions
        for spot, quantity in stock.get(i, {}).items()
        if spot.within and quantity > 0 and not spot.is_end
    }
