"""Whether the pieces that a run made can be of the bars that were taken for it."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple, Protocol

from lotkin.core.plan.bar_yield import of_length, pieces_from, say_yield
from lotkin.core.values.quantities import MICRO, show_quantity, to_micro

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.events.parts.inputs import Taken
    from lotkin.core.events.parts.outputs import Output
    from lotkin.core.plan import BarPlan
    from lotkin.core.rules.checking import Shop

__all__ = ["check_bars"]


class Cut(Protocol):
    """A run in which pieces may have been cut from bars."""

    @property
    def inputs(self) -> Sequence[Taken]: ...

    @property
    def outputs(self) -> Sequence[Output]: ...

    @property
    def scrap(self) -> Decimal: ...

    @property
    def samples(self) -> Decimal: ...


def check_bars(shop: Shop, event: Cut) -> None:
    """Check that no more pieces were made than the bars give by the plan.

    A bar counts with the length that was measured when it came, else with that of the plan.

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
        if most is not None and made > most.pieces * MICRO:
            said = (
                f"{show_quantity(made)} of {part.code} were made, but what was taken of "
                f"{', '.join(bars)} gives {most.pieces} at most ({most.why})"
            )
            shop.breach(
                "more-than-bars-give",
                output.code,
                f"{output.code}: {said}",
                hint="count again, and name every bar that was used; "
                "if it is so, report it: what was made is held then",
            )
            shop.hold_what_is_made(f"{said}: other bars may be among them")


class _Most(NamedTuple):
    """How many pieces bars give at most, and what that is reckoned with."""

    pieces: int
    why: str


def _most(shop: Shop, event: Cut, bar: BarPlan, bars: tuple[str, ...]) -> _Most | None:
    """Give how many pieces the bars that were taken give; None if one is not counted as bar."""
    total, why = 0, []
    for one in event.inputs:
        if one.item not in bars:
            continue
        item = shop.exact(one.item)
        cut = _as_received(shop, item.code, bar)
        pieces = pieces_from(cut, one.micro, item.unit) if item.kind == "bar-lot" else None
        if pieces is None:
            return None
        total += pieces
        why.append(say_yield(cut))
    return _Most(total, "; ".join(dict.fromkeys(why))) if why else None


def _as_received(shop: Shop, lot: str, bar: BarPlan) -> BarPlan:
    """Give how the part is cut from bars of the length that came, where that was measured."""
    measured = shop.view.facts("bar-length", lot)
    return of_length(bar, Decimal(str(measured[-1].value["mm"]))) if measured else bar


def _made(event: Cut, first: Output) -> int:
    """Give the millionths of a part that were made of the same bars, scrap and samples included."""
    same = [each for each in event.outputs if each.part == first.part and each.of == first.of]
    made = sum(to_micro(each.quantity) for each in same if each.unit == "pcs")
    if first is event.outputs[0]:
        made += to_micro(event.scrap) + to_micro(event.samples)
    return made
