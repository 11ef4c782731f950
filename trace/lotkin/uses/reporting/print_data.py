"""What labels and dispatch notes say: items with what is on hand, what is inside, who gets it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.cases.membership import is_member, open_cases
from lotkin.core.errors import BadEvent
from lotkin.core.events import Send
from lotkin.core.events.reading import read
from lotkin.core.genealogy.draft import Draft
from lotkin.core.goods_in.keeping import counted_from
from lotkin.core.values.planned_places import kind_of_place
from lotkin.uses.lookup.resolve import resolve

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from lotkin.core.genealogy.items import Item
    from lotkin.core.plan import ShopPlan
    from lotkin.uses.ports import CanRead, Clock, Reading

__all__ = ["Printable", "print_data"]


@dataclass(frozen=True, slots=True)
class Printable:
    """An item as paper shows it.

    Attributes:
        item: The item.
        on_hand: Millionths in the works and at suppliers; None if it has no quantity.
        inside: (item, millionths) of what lies within a carton, or was sent with an outside batch.
        customer: Code of whom a carton went to; "" if to nobody.
        held: Why it is held, or something within it; "" if nothing holds it.
        held_inside: Code -> why, of what lies within and is held.
        as_of: When that was looked up, in microseconds UTC.
        source: The heat or source lot that it was delivered of; None for none, or several.
        place: Where all of it lies; "" if at several places, or at none.
        due_by_plan: What of the plan its due date was counted from; "" if the date was given.
        services: What an outside batch was sent for, as it was said, each once.
    """

    item: Item
    on_hand: int | None
    inside: tuple[tuple[Item, int], ...]
    customer: str
    held: str
    held_inside: Mapping[str, str]
    as_of: int
    source: Item | None
    place: str
    due_by_plan: str = ""
    services: tuple[str, ...] = ()


def print_data(
    store: CanRead, texts: Sequence[str], clock: Clock
) -> tuple[ShopPlan | None, list[Printable]]:
    """Gather what labels say, in the order asked for.

    Paper does not hear of what comes later: what it says of holds is as of the clock.

    Raises:
        NotFound, Ambiguous: A text leads nowhere, or to several items.
        BadEvent: It is something that no label is for.
    """
    with store.reading() as view:
        number = view.plan_number()
        plan = view.plan(number) if number else None
        now = clock()
        return plan, [_printable(view, plan, text, now) for text in texts]


def _printable(view: Reading, plan: ShopPlan | None, text: str, now: int) -> Printable:
    item = resolve(view, text)
    if item.kind in ("bench-setup", "shipment"):
        raise BadEvent(item.code, f"is a {item.kind}; no label is for that")
    spots = {spot: q for spot, q in view.stock(item.code).items() if not spot.is_end}
    sends = _sends(view, item) if item.kind == "outside-batch" else []
    inside = _sent(view, sends) if item.kind == "outside-batch" else _inside(view, item)
    customers = {
        spot.place
        for spot in spots
        if kind_of_place(spot.place, plan, view.places_shipped_to) == "customer"
    }
    held_inside = {
        found.code: why for found, _ in inside if (why := _held_because(view, found.code))
    }
    return Printable(
        item=item,
        on_hand=None if item.quantity is None else sum(spots.values()),
        inside=tuple(inside),
        customer=min(customers, default=""),
        held=_held_because(view, item.code) or _first_inside(held_inside),
        held_inside=held_inside,
        as_of=now,
        source=_source(view, item),
        place=next(iter(spots)).place if len(spots) == 1 else "",
        due_by_plan=counted_from(view, item.code),
        services=tuple(dict.fromkeys(send.service for send in sends if send.service)),
    )


def _held_because(view: Reading, code: str) -> str:
    """Tell why an item is held: by a hold of its own, or by an open case; "" if by nothing."""
    reason = view.hold(code)
    if reason is not None:
        return reason
    return next((f"{c.code}, {c.reason}" for c in open_cases(view) if is_member(view, c, code)), "")


def _first_inside(held: Mapping[str, str]) -> str:
    """Say which of the things within is held, and how many more."""
    if not held:
        return ""
    code, why = next(iter(held.items()))
    more = f" and {len(held) - 1} more within" if len(held) > 1 else ""
    return f"{code}{more}: {why}"


def _source(view: Reading, item: Item) -> Item | None:
    """Find the heat or source lot that a delivery is of."""
    parents = [view.item(link.parent) for link in view.parents(item.code)]
    sources = [p for p in parents if p is not None and p.kind in ("heat", "source-lot")]
    return sources[0] if len(sources) == 1 else None


def _inside(view: Reading, item: Item) -> list[tuple[Item, int]]:
    """List what lies within a carton."""
    return [
        (found, quantity)
        for code, spot, quantity in view.within(item.code)
        if not spot.is_end and quantity > 0 and (found := view.item(code)) is not None
    ]


def _sends(view: Reading, batch: Item) -> list[Send]:
    """List the dispatches of an outside batch."""
    events = [read(Draft(view), view.entry(seq)) for seq in view.events_of(batch.code)]
    return [one for one in events if isinstance(one, Send) and one.batch == batch.code]


def _sent(view: Reading, sends: Sequence[Send]) -> list[tuple[Item, int]]:
    """List what was sent with an outside batch, whether or not it has come back."""
    sent: dict[str, int] = {}
    for send in sends:
        for taken in send.inputs:
            sent[taken.item] = sent.get(taken.item, 0) + taken.micro
    return [
        (found, quantity)
        for code, quantity in sent.items()
        if (found := view.item(code)) is not None
    ]
