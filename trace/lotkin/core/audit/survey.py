"""All that the checks look at, gathered from one state of the store."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.values.planned_places import kind_of_place

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from lotkin.core.genealogy.items import Item, Link
    from lotkin.core.genealogy.view import Entry
    from lotkin.core.journal.named_documents import LostDocument
    from lotkin.core.plan import ShopPlan
    from lotkin.core.values.places import Spot

__all__ = ["Delivery", "Order", "Survey"]


class Delivery(NamedTuple):
    """A lot as it was received, and the plan it was received under."""

    code: str
    part: str
    certificate: str
    plan: int
    event: int
    at: int


class Order(NamedTuple):
    """An issued traveller."""

    traveller: str
    part: str
    event: int
    at: int


@dataclass(slots=False)
class Survey:
    """What is on record.

    Attributes:
        now: Microseconds UTC to which days are counted.
        items: All living items by code.
        links: All living links.
        stock: (item, spot, millionths), ends included.
        times: Number of an event -> microseconds UTC when it happened, as it reads now.
        recorded: The same -> when it was recorded.
        plans: All plan revisions by the number of their event.
        plan: The plan in force.
        deliveries, orders: Lots received; travellers issued.
        broken: Events that broke a rule and were not voided.
        holds: Code of a held item -> (reason, since when).
        bills: Newest state of a unit -> part -> millionths in it.
        touched: Code -> when pieces of it were last moved or used.
        found: Codes of lots that were found without a label.
        identified: Codes of lots of which pieces were proven to be of certain parents.
        lost: Documents that events name and that are missing or altered.
        shipped_to: Places that shipments went to.
    """

    now: int
    items: Mapping[str, Item] = field(default_factory=dict)
    links: Sequence[Link] = ()
    stock: Sequence[tuple[str, Spot, int]] = ()
    times: Mapping[int, int] = field(default_factory=dict)
    recorded: Mapping[int, int] = field(default_factory=dict)
    plans: Mapping[int, ShopPlan] = field(default_factory=dict)
    plan: ShopPlan | None = None
    deliveries: Sequence[Delivery] = ()
    orders: Sequence[Order] = ()
    broken: Sequence[Entry] = ()
    holds: Mapping[str, tuple[str, int]] = field(default_factory=dict)
    bills: Mapping[str, Mapping[str, int]] = field(default_factory=dict)
    touched: Mapping[str, int] = field(default_factory=dict)
    found: Sequence[str] = ()
    identified: frozenset[str] = frozenset()
    lost: Sequence[LostDocument] = ()
    shipped_to: frozenset[str] = frozenset()

    def plan_of(self, number: int) -> ShopPlan | None:
        """Give a plan revision; the one in force where none is named."""
        return self.plans.get(number, self.plan)

    @cached_property
    def uses(self) -> dict[str, list[Link]]:
        """Links by the code of their parent."""
        found: dict[str, list[Link]] = {}
        for link in self.links:
            found.setdefault(link.parent, []).append(link)
        return found

    @cached_property
    def on_hand(self) -> dict[str, int]:
        """Millionths of each item that are anywhere but at an end or a customer."""
        found: dict[str, int] = {}
        for code, spot, quantity in self.stock:
            if not spot.is_end and self.place_kind(spot.place) != "customer":
                found[code] = found.get(code, 0) + quantity
        return found

    def place_kind(self, place: str) -> str:
        """Tell what a place is; "" if it is not known. Whoever was shipped to is a customer."""
        return kind_of_place(place, self.plan, lambda: self.shipped_to)
