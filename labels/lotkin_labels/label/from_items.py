"""Labels made from items and the shop plan."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.values.quantities import show_quantity
from lotkin_labels.label.face import LabelRow
from lotkin_labels.label.label import CartonLabel, ItemLabel, TrayLabel, UnitLabel
from lotkin_labels.paper.qr import is_alphanumeric
from lotkin_labels.paper.wording import show_day, show_kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.genealogy.items import Item
    from lotkin.core.plan import PartPlan, ShopPlan

__all__ = [
    "Portion",
    "label_carton",
    "label_item",
    "label_tray",
    "label_unit",
    "part_of",
    "sum_of",
    "supplier_name",
]


class Portion(NamedTuple):
    """Some of an item.

    Attributes:
        quantity: Millionths of its unit; None if not recorded.
        tray: Code of the tray that it lies in; "" for none.
        held: Why it is held; "" if nothing holds it.
    """

    item: Item
    quantity: int | None
    tray: str = ""
    held: str = ""

    @property
    def shown(self) -> str:
        """The quantity with its unit; "" if not recorded."""
        return "" if self.quantity is None else show_quantity(self.quantity, self.item.unit)


def label_item(
    item: Item,
    plan: ShopPlan | None,
    *,
    quantity: int | None = None,
    payload: str = "",
    source: Item | None = None,
) -> ItemLabel:
    """Make the label of a lot, a heat, or a resource in one period.

    Args:
        plan: The plan in force; without one there are no names.
        quantity: Millionths on hand; None for what was made or received.
        payload: What the QR code says; the code if "". The byte form is taken where it is needed:
            a code that has been given is printed, whatever its letters are.
        source: The heat or source lot that it was delivered of; its number is printed where the
            delivery has none of its own.
    """
    part = part_of(item, plan)
    portion = Portion(item, item.quantity if quantity is None else quantity)
    return ItemLabel(
        code=item.code,
        kind=show_kind(item.kind),
        part=item.part,
        name=part.name if part is not None else _resource_name(item, plan),
        revision=part.revision if part is not None else "",
        quantity=portion.shown if item.unit else "",
        supplier=supplier_name(item.supplier, plan),
        supplier_lot=source.supplier_lot if source is not None else item.supplier_lot,
        lot_word=_number_word(source or item),
        grade=(part.material or "") if part is not None else "",
        made_on=show_day(item.made_at, plan),
        due_on=show_day(item.due_at, plan),
        due_word="calibrate by" if item.kind == "gauge" else "use by",
        cautions=part.cautions if part is not None else (),
        payload=payload,
        allow_bytes=not is_alphanumeric(payload or item.code),
    )


def _number_word(item: Item) -> str:
    """Name the number of a supplier: that of a melt, or that of a lot of theirs."""
    return "heat" if item.kind in {"bar-lot", "heat"} else "supplier lot"


def label_unit(item: Item, plan: ShopPlan | None, *, payload: str = "") -> UnitLabel:
    """Make the label of a unit: its serial, which leads to its newest state.

    Args:
        payload: What the QR code says, e.g. a GS1 Digital Link; the serial if "".
    """
    part = part_of(item, plan)
    serial = item.serial or item.code
    return UnitLabel(
        serial=serial,
        part=item.part,
        name=part.name if part is not None else "",
        revision=part.revision if part is not None else "",
        gtin=part.gtin or "" if part is not None else "",
        works=plan.works.name if plan is not None else "",
        made_on=show_day(item.made_at, plan),
        cautions=part.cautions if part is not None else (),
        payload=payload,
        allow_bytes=not is_alphanumeric(payload or serial),
    )


def label_carton(
    carton: Item,
    plan: ShopPlan | None,
    *,
    contents: Sequence[Portion],
    customer: str = "",
    payload: str = "",
) -> CartonLabel:
    """Make the label of a carton with the list of its contents.

    Args:
        customer: Code of whom it goes to; "" if that is not known yet.
    """
    parts = {portion.item.part for portion in contents}
    part = part_of(contents[0].item, plan) if len(parts) == 1 else None
    found = plan.customer(customer) if plan is not None else None
    return CartonLabel(
        code=carton.code,
        contents=tuple(_row(portion, plan) for portion in contents),
        part=part.code if part is not None else "",
        name=part.name if part is not None else "",
        quantity=sum_of(contents),
        customer=found.name if found is not None else customer,
        packed_on=show_day(carton.made_at, plan),
        payload=payload,
        allow_bytes=not is_alphanumeric(payload or carton.code),
    )


def label_tray(portion: Portion, plan: ShopPlan | None, *, next_step: str = "") -> TrayLabel:
    """Make the label of a tray with pieces of one lot; the cautions are those of the next step.

    Args:
        portion: What lies in it; `portion.tray` is its code.
        next_step: Code of the step of the route that it goes to.
    """
    item, part = portion.item, part_of(portion.item, plan)
    step = plan.step(item.part, next_step) if plan is not None else None
    cautions = (part.cautions if part is not None else ()) + (step.cautions if step else ())
    return TrayLabel(
        tray=portion.tray,
        lot=item.code,
        part=item.part,
        name=part.name if part is not None else "",
        revision=part.revision if part is not None else "",
        quantity=portion.shown,
        step=f"{step.code} {step.name}" if step is not None else next_step,
        cautions=cautions,
        allow_bytes=not is_alphanumeric(portion.tray),
    )


def part_of(item: Item, plan: ShopPlan | None) -> PartPlan | None:
    """Give what the plan says of the part of an item; None if it says nothing."""
    return plan.part(item.part) if plan is not None else None


def _resource_name(item: Item, plan: ShopPlan | None) -> str:
    found = plan.resource(item.part or item.code) if plan is not None else None
    return found.name if found is not None else ""


def supplier_name(code: str, plan: ShopPlan | None) -> str:
    """Give the name of a supplier, the code where the plan has none."""
    found = plan.supplier(code) if plan is not None else None
    return found.name if found is not None else code


def _row(portion: Portion, plan: ShopPlan | None) -> LabelRow:
    item, part = portion.item, part_of(portion.item, plan)
    return LabelRow(
        item.serial or item.code, part.name if part is not None else item.part, portion.shown
    )


def sum_of(portions: Sequence[Portion]) -> str:
    """Sum quantities of one unit; "" if there are several units or a quantity is not known."""
    known = [portion.quantity for portion in portions if portion.quantity is not None]
    units = {portion.item.unit for portion in portions}
    if len(units) != 1 or len(known) != len(portions):
        return ""
    return show_quantity(sum(known), units.pop())
