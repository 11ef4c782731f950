"""What a word of the works is in its plan: a part, a place, a customer, a person."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.plan.shop_plan import ShopPlan

__all__ = ["Named", "named_in"]


class Named(NamedTuple):
    """An entry of a plan: what it is, its code and its name."""

    what: str
    code: str
    name: str


def named_in(plan: ShopPlan, text: str) -> Named | None:
    """Find the entry of a plan that a code or a name means, upper or lower case.

    An exact code comes first, then a code in other letters, then a name, then one word of the name
    of a single entry.
    """
    text = text.strip()
    entries = list(_entries(plan))
    wanted = text.casefold()
    for fits in (
        lambda one: one.code == text,
        lambda one: one.code.casefold() == wanted,
        lambda one: one.name.casefold() == wanted,
    ):
        found = next(filter(fits, entries), None)
        if found is not None:
            return found
    by_word = [one for one in entries if wanted in one.name.casefold().split()]
    return by_word[0] if len(by_word) == 1 else None


def _entries(plan: ShopPlan) -> Iterator[Named]:
    for customer in plan.customers:
        yield Named("a customer of the plan", customer.code, customer.name)
    for supplier in plan.suppliers:
        yield Named("a supplier of the plan", supplier.code, supplier.name)
    for place in plan.shop_places:
        yield Named(f"a place of the plan ({place.kind})", place.code, place.name)
    for bench in plan.benches:
        yield Named("a bench of the plan", bench.code, bench.name)
    for part in plan.parts:
        yield Named("a part of the plan", part.code, part.name)
    for person in plan.people:
        yield Named("a person of the plan", person.code, person.name)
    for resource in plan.resources:
        yield Named(f"a {resource.kind} of the plan", resource.code, resource.name)
