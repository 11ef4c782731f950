"""What labels and dispatch notes say: items with what is on hand, what is inside, who gets it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.draft import Draft
from lotkin.core.errors import BadEvent
from lotkin.core.events import Send
from lotkin.core.reading import read
from lotkin.uses.resolve import resolve

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.items import Item
    from lotkin.core.plan import ShopPlan
    from lotkin.uses.ports import CanRead, Reading

__all__ = ["Printable", "print_data"]


@dataclass(frozen=True, slots=True)
class Printable:
    """An item as paper shows it.

    Attributes:
        item: The item.
        on_hand: Millionths in the works and at suppliers; None if it has no quantity.
        inside: (item, millionths) of what lies within a carton, or was sent with an outside batch.
        customer: Code of whom a carton went to; "" if to nobody.
        is_held: Whether it is held.
    """

    item: Item
    on_hand: int | None
    inside: tuple[tuple[Item, int], ...]
    customer: str
    is_held: bool


def print_data(store: CanRead, texts: Sequence[str]) -> tuple[ShopPlan | None, list[Printable]]:
    """Gather what labels say, in the order asked for.

    Raises:
        NotFound, Ambiguous: A text leads nowhere, or to several items.
        BadEvent: It is something that no label is for.
    """
    with store.reading() as view:
        number = view.plan_number()
        plan = view.plan(number) if number else None
        return plan, [_printable(view, plan, text) for text in texts]


def _printable(view: Reading, plan: ShopPlan | None, text: str) -> Printable:
    item = resolve(view, text)
    if item.kind in ("bench-setup", "shipment"):
        raise BadEvent(item.code, f"is a {item.kind}; no label is for that")
    spots = {spot: q for spot, q in view.stock(item.code).items() if not spot.is_end}
    inside = _sent(view, item) if item.kind == "outside-batch" else _inside(view, item)
    customers = {
        spot.place for spot in spots if plan is not None and plan.customer(spot.place) is not None
    }
    return Printable(
        item=item,
        on_hand=None if item.quantity is None else sum(spots.values()),
        inside=tuple(inside),
        customer=min(customers, default=""),
        is_held=view.hold(item.code) is not None,
    )


def _inside(view: Reading, item: Item) -> list[tuple[Item, int]]:
    """List what lies within a carton."""
    return [
        (found, quantity)
        for code, spot, quantity in view.within(item.code)
        if not spot.is_end and quantity > 0 and (found := view.item(code)) is not None
    ]


def _sent(view: Reading, batch: Item) -> list[tuple[Item, int]]:
    """List what was sent with an outside batch, whether or not it has come back."""
    sent: dict[str, int] = {}
    for seq in view.events_of(batch.code):
        event = read(Draft(view), view.entry(seq))
        if isinstance(event, Send) and event.batch == batch.code:
            for taken in event.inputs:
                sent[taken.item] = sent.get(taken.item, 0) + taken.micro
    return [
        (found, quantity)
        for code, quantity in sent.items()
        if (found := view.item(code)) is not None
    ]
