"""Dispatch notes made from items and the shop plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.amounts import show_limits
from lotkin_labels.label.from_items import part_of, sum_of, supplier_name
from lotkin_labels.paper.wording import show_day
from lotkin_labels.shop_floor.dispatch_note import DispatchNote, DispatchRow

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.genealogy.items import Item
    from lotkin.core.plan import ShopPlan, StepPlan
    from lotkin_labels.label.from_items import Portion

__all__ = ["make_dispatch_note"]


def make_dispatch_note(
    batch: Item,
    plan: ShopPlan | None,
    *,
    portions: Sequence[Portion],
    service: str = "",
    as_of: str = "",
) -> DispatchNote:
    """Make the note that goes with a batch to an outside service.

    Args:
        batch: The outside batch; it names supplier and step.
        service: What is asked besides the step of the plan.
        as_of: When it was looked up what is held, for people.
    """
    step = plan.step(batch.part, batch.step) if plan is not None else None
    asked = [service] if service else []
    cautions: list[str] = []
    for portion in portions:
        part = part_of(portion.item, plan)
        cautions += [text for text in (part.cautions if part else ()) if text not in cautions]
    if step is not None:
        asked += _asked(step)
        cautions += [text for text in step.cautions if text not in cautions]
    return DispatchNote(
        batch=batch.code,
        supplier=supplier_name(batch.supplier, plan),
        works=plan.works.name if plan is not None else "",
        asked=tuple(asked),
        cautions=tuple(cautions),
        sent_on=show_day(batch.made_at, plan),
        totals=sum_of(portions),
        as_of=as_of,
        rows=tuple(
            DispatchRow(
                lot=portion.item.code,
                quantity=portion.shown,
                part=portion.item.part,
                name=_name(portion.item, plan),
                tray=portion.tray,
                held=portion.held,
            )
            for portion in portions
        ),
    )


def _asked(step: StepPlan) -> list[str]:
    lines = [
        f"Step {step.code}: {step.name}",
        show_limits(step.min_minutes, step.max_minutes, "minutes"),
        show_limits(step.min_celsius, step.max_celsius, "°C"),
    ]
    for measure in step.measures:
        limits = show_limits(measure.min, measure.max, measure.unit)
        lines.append(f"{measure.name} {limits}" if limits else "")
    return [line for line in lines if line]


def _name(item: Item, plan: ShopPlan | None) -> str:
    part = part_of(item, plan)
    return part.name if part is not None else item.part
