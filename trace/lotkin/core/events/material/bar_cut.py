"""Whether the pieces that a run made can be of the bars that were taken for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.plan.bar_yield import pieces_from, say_yield
from lotkin.core.values.quantities import MICRO, show_quantity, to_micro

if TYPE_CHECKING:
    from lotkin.core.events.material.make import Make
    from lotkin.core.events.parts.outputs import Output
    from lotkin.core.plan import BarPlan
    from lotkin.core.rules.checking import Shop

__all__ = ["check_bars"]


def check_bars(shop: Shop, event: Make) -> None:
    """Check that no more pieces were made than the bars give by the plan.

    More of them means that a bar was taken that nobody recorded, of a heat that is not known: what
    was made is held.

    Raises:
        RuleBroken: More pieces were made (asked events only).
    """
    done: set[tuple[str, tuple[str, ...]]] = set()
    for output in event.outputs:
        part = shop.plan.part(output.part) if shop.plan is not None else None
        bars = tuple(output.of) or tuple(taken.item for taken in event.inputs)
        if part is None or part.bar is None or (part.code, bars) in done:
            continue
        done.add((part.code, bars))
        most = _most(shop, event, part.bar, bars)
        made = _made(event, output)
        if most is not None and made > most * MICRO:
            said = (
                f"{show_quantity(made)} of {part.code} were made, but what was taken of "
                f"{', '.join(bars)} gives {most} at most ({say_yield(part.bar)})"
            )
            shop.breach(
                "more-than-bars-give",
                output.code,
                f"{output.code}: {said}",
                hint="count again, and name every bar that was used; "
                "if it is so, report it: what was made is held then",
            )
            shop.hold_what_is_made(f"{said}: other bars may be among them")


def _most(shop: Shop, event: Make, bar: BarPlan, bars: tuple[str, ...]) -> int | None:
    """Give how many pieces the bars that were taken give; None if one is not counted as bar."""
    total = 0
    taken = [one for one in event.inputs if one.item in bars]
    for one in taken:
        item = shop.exact(one.item)
        pieces = pieces_from(bar, one.micro, item.unit) if item.kind == "bar-lot" else None
        if pieces is None:
            return None
        total += pieces
    return total if taken else None


def _made(event: Make, first: Output) -> int:
    """Give the millionths of a part that were made of the same bars, scrap and samples included."""
    same = [each for each in event.outputs if each.part == first.part and each.of == first.of]
    made = sum(to_micro(each.quantity) for each in same if each.unit == "pcs")
    if first is event.outputs[0]:
        made += to_micro(event.scrap) + to_micro(event.samples)
    return made
