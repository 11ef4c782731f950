"""What goes on paper: labels, travellers, dispatch notes and cards, as PDF or ready to print."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from lotkin.core.errors import BadEvent
from lotkin.core.goods_in.keeping import BY_PLAN
from lotkin.core.values.instants import show_instant
from lotkin_labels import (
    Portion,
    StandingLabel,
    badge_cards,
    bench_cards,
    command_cards,
    label_carton,
    label_item,
    label_unit,
    make_dispatch_note,
    make_traveller,
    place_cards,
    print_dispatch_note,
    print_traveller,
)
from lotkin_labels.label.addresses import goods_payload, payload
from lotkin_labels.paper.wording import show_moment

if TYPE_CHECKING:
    from lotkin.core.plan import ShopPlan
    from lotkin.uses.recording.issue import Issued
    from lotkin.uses.reporting.print_data import Printable
    from lotkin_labels import Card, Label

__all__ = ["cards_of", "dispatch_note", "label_of", "traveller"]


def label_of(
    one: Printable, plan: ShopPlan | None, *, gs1: bool = False, base_url: str | None = None
) -> Label:
    """Make the label of an item; with `gs1` finished goods say their GS1 Digital Link.

    The code says the address of the item where the works has a `base_url`, else the bare code.

    What is held says so in a bar; what is not says as of when.
    """
    return StandingLabel(_label(one, plan, gs1, base_url), one.held, show_moment(one.as_of, plan))


def _label(one: Printable, plan: ShopPlan | None, gs1: bool, base_url: str | None) -> Label:  # noqa: FBT001
    item = one.item
    said = payload(item.serial or item.code, base_url)
    if item.kind == "unit":
        part = plan.part(item.part) if plan is not None else None
        if gs1 and part is not None and part.gtin:
            said = goods_payload(item.serial or item.code, part.gtin, base_url)
        return label_unit(item, plan, payload=said)
    if item.kind == "carton":
        contents = [Portion(inside, quantity) for inside, quantity in one.inside]
        return label_carton(item, plan, contents=contents, customer=one.customer, payload=said)
    label = label_item(
        item, plan, quantity=one.on_hand, payload=payload(item.code, base_url), source=one.source
    )
    if one.due_by_plan:
        word = label.due_word.removesuffix(" by")
        label = replace(label, due_word=f"{word} {BY_PLAN[one.due_by_plan]}")
    return replace(label, place=one.place)


def traveller(issued: Issued) -> bytes:
    """Print the traveller of an order, as PDF."""
    paper = make_traveller(
        issued.code,
        issued.part,
        issued.plan,
        quantity=issued.quantity,
        issued_on=show_instant(issued.at)[:10],
    )
    return print_traveller(paper)


def dispatch_note(found: Printable, plan: ShopPlan | None) -> bytes:
    """Print the note that goes with a batch to an outside service, as PDF.

    Raises:
        BadEvent: It is no outside batch.
    """
    if found.item.kind != "outside-batch":
        raise BadEvent(found.item.code, f"is a {found.item.kind}, not an outside batch")
    portions = [
        Portion(inside, quantity, held=found.held_inside.get(inside.code, ""))
        for inside, quantity in found.inside
    ]
    as_of = show_moment(found.as_of, plan)
    note = make_dispatch_note(
        found.item, plan, portions=portions, service=", ".join(found.services), as_of=as_of
    )
    return print_dispatch_note(note)


def cards_of(plan: ShopPlan) -> list[Card]:
    """Make the cards of a works: badges, commands, places and bench positions."""
    cards = [*badge_cards(plan), *command_cards(), *place_cards(plan)]
    for bench in plan.benches:
        cards += bench_cards(bench.code, plan)
    return cards
