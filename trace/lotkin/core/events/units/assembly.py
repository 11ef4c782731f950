"""The bill of material at assembly: what a unit needs, against what went into it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from lotkin.core.values.quantities import show_quantity, to_micro

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from lotkin.core.events.units.fitted import Fitted
    from lotkin.core.rules.checking import Shop

__all__ = ["check_bill", "check_finished"]


class Built(Protocol):
    """A unit that is being built."""

    @property
    def serial(self) -> str: ...

    @property
    def part(self) -> str: ...

    @property
    def inputs(self) -> tuple[Fitted, ...]: ...


def check_bill(shop: Shop, unit: Built, mounted: Sequence[tuple[str, str, int]]) -> None:
    """Check that a unit has all that its bill of material names, each finished.

    Args:
        shop: The works as the event meets it.
        unit: The completed event.
        mounted: (lot, position, millionths in one unit) of the bench setup.
    """
    part = shop.plan.part(unit.part) if shop.plan is not None else None
    if part is None:
        return
    if not part.needs:
        shop.breach(
            "no-bill",
            unit.serial,
            f"{unit.serial} cannot be built: {part.code} has no bill of material in the plan",
            hint=f"add [[part.need]] to {part.code}, or record it as received or made",
        )
    have: dict[str, int] = {}
    used = [(lot, per) for lot, _, per in mounted] + [(f.item, f.micro) for f in unit.inputs]
    for code, quantity in used:
        item = shop.exact(code)
        have[item.part] = have.get(item.part, 0) + quantity
    for need in part.needs:
        missing = to_micro(need.per) - have.get(need.part, 0)
        if missing > 0:
            shop.breach(
                "bill-not-met",
                unit.serial,
                f"{unit.serial} lacks {show_quantity(missing)} of {need.part}",
                hint="mount it at the bench, or name it as an input",
            )
    check_finished(shop, (code for code, _ in used))


def check_finished(shop: Shop, codes: Iterable[str]) -> None:
    """Check that lots have passed the last step of their route."""
    if shop.plan is None:
        return
    for code in codes:
        item = shop.exact(code)
        last = shop.plan.last_step(item.part)
        if last is not None and item.step and item.step != last.code:
            shop.breach(
                "step-skipped",
                item.code,
                f"{item.code} has passed step {item.step} only; "
                f"{item.part} is finished after step {last.code}",
                hint="record the steps it still needs",
            )
