"""How many pieces bars give at most, by what the plan says of a part that is cut from bar."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.plan.values import plain_number
from lotkin.core.values.bars import cut_bar, micrometres, parts_per_bar
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from collections.abc import Iterator
    from decimal import Decimal

    from lotkin.core.plan.entries.parts import BarPlan, PartPlan
    from lotkin.core.plan.shop_plan import ShopPlan

__all__ = ["bars_for", "cut_from", "of_length", "pieces_from", "pieces_of_bars", "say_yield"]


def pieces_of_bars(bar: BarPlan, bars: int = 1) -> int:
    """Give how many pieces some full bars give; the remnant of each stays in the machine."""
    cut = cut_bar(
        bar.length_mm,
        bar.part_mm,
        cutoff_mm=bar.cutoff_mm,
        facing_mm=bar.facing_mm,
        remnant_mm=bar.remnant_mm,
    )
    return cut.parts * bars


def of_length(bar: BarPlan, length_mm: Decimal) -> BarPlan:
    """Give the same for bars of another length."""
    return bar.model_copy(update={"length_mm": length_mm})


def bars_for(bar: BarPlan, pieces: int) -> int | None:
    """Give how many full bars some pieces need; None if a bar gives none."""
    each = pieces_of_bars(bar)
    return -(-pieces // each) if each else None


def pieces_from(bar: BarPlan, micro: int, unit: str) -> int | None:
    """Give how many pieces an amount of bar gives at most.

    Args:
        bar: How the part is cut.
        micro: Millionths of metres, or of bars where they are counted in pieces.
        unit: `m` or `pcs`.

    Returns:
        Those of the full bars, and of what is taken of one more: its remnant may be in the part
        of the bar that was left, so none is taken off. None for any other unit.
    """
    if unit == "pcs":
        return pieces_of_bars(bar, micro // MICRO)
    if unit != "m":
        return None
    # a millionth of a metre is a micrometre
    bars, rest_um = divmod(micro, micrometres(bar.length_mm))
    rest = parts_per_bar(
        rest_um,
        micrometres(bar.part_mm),
        cutoff_um=micrometres(bar.cutoff_mm),
        facing_um=micrometres(bar.facing_mm),
        remnant_um=0,
    )
    return pieces_of_bars(bar, bars) + min(rest, pieces_of_bars(bar))


def cut_from(plan: ShopPlan, material: str) -> Iterator[tuple[PartPlan, BarPlan]]:
    """Yield the parts that are cut from a material, with how they are cut."""
    for part in plan.parts:
        if part.bar is not None and any(material in step.inputs for step in part.steps):
            yield part, part.bar


def say_yield(bar: BarPlan) -> str:
    """Say what a bar gives, like `118 pcs at most from a bar of 3000 mm`."""
    return f"{pieces_of_bars(bar)} pcs at most from a bar of {plain_number(bar.length_mm)} mm"
