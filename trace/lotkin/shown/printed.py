"""What goes on paper: the label of an item with the address or code that it says."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.wiring.payloads import goods_payload, payload
from lotkin_labels import Portion, label_carton, label_item, label_unit

if TYPE_CHECKING:
    from lotkin.core.plan import ShopPlan
    from lotkin.uses.print_data import Printable
    from lotkin_labels import Label

__all__ = ["label_of"]


def label_of(one: Printable, plan: ShopPlan | None, *, gs1: bool = False) -> Label:
    """Make the label of an item; with `gs1` finished goods say their GS1 Digital Link."""
    item = one.item
    said = payload(item.serial or item.code)
    if item.kind == "unit":
        part = plan.part(item.part) if plan is not None else None
        if gs1 and part is not None and part.gtin:
            said = goods_payload(item.serial or item.code, part.gtin)
        return label_unit(item, plan, payload=said)
    if item.kind == "carton":
        contents = [Portion(inside, quantity) for inside, quantity in one.inside]
        return label_carton(item, plan, contents=contents, customer=one.customer, payload=said)
    return label_item(item, plan, quantity=one.on_hand, payload=payload(item.code))
