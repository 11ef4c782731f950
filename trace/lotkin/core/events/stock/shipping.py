"""`ship` and `return`: finished goods leave the works, and some come back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal, NamedTuple, Self

from pydantic import Field

from lotkin.core.events.base import Amount, Code, Event, Text
from lotkin.core.events.parts.filled_in import FilledIn
from lotkin.core.events.parts.inputs import Taken, contents_of, take
from lotkin.core.events.stock.leaving import check_tested, take_along
from lotkin.core.genealogy.items import Item
from lotkin.core.values.places import UNKNOWN, Spot
from lotkin.core.values.quantities import MICRO, from_micro, to_micro

if TYPE_CHECKING:
    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["Return", "Ship"]


class _Found(NamedTuple):
    """What comes back, from where it was shipped to, and how much of it is there."""

    item: Item
    spot: Spot
    there: int


class Ship(Event):
    """Cartons, or pieces in the open, leave for a customer."""

    kind: Literal["ship"] = "ship"
    shipment: Code
    customer: Code
    contents: tuple[Taken, ...] = Field(min_length=1)
    reference: Text = Field(default="", description="Order or delivery note")
    inside: Annotated[tuple[Taken, ...], FilledIn()] = Field(
        default=(), description="Filled in: what the cartons hold"
    )

    def complete(self, shop: Shop) -> Self:
        """Find what leaves; all of it must be free, and tested."""
        shop.free_code(self.shipment)
        if shop.plan is not None and shop.plan.customer(self.customer) is None:
            shop.breach(
                "unknown-customer",
                self.shipment,
                f"{self.shipment}: customer {self.customer} is not in the plan",
                hint="add a [[customer]] to the plan",
            )
        contents = tuple(take(shop, taken, doing="shipped") for taken in self.contents)
        inside = self.inside
        if not inside:
            inside = tuple(piece for taken in contents for piece in self._inside(shop, taken))
        for taken in (*contents, *inside):
            check_tested(shop, taken.item, "shipped")
        return self.but(contents=contents, inside=inside)

    def _inside(self, shop: Shop, carton: Taken) -> tuple[Taken, ...]:
        pieces = contents_of(shop, shop.exact(carton.item), carton.place or "")
        for piece in pieces:
            shop.check_free(shop.exact(piece.item), "shipped")
        return pieces

    def derive(self, draft: Draft) -> None:
        """Make the shipment and move everything to the customer."""
        draft.make(
            Item(
                code=self.shipment,
                kind="shipment",
                made_at=self.at_us,
                event=draft.seq,
                supplier_lot=self.reference.replace(" ", "_")[:80],
                plan=draft.plan,
            ),
            None,
        )
        quantities: dict[str, int] = {}
        for taken in self.contents:
            quantities[taken.item] = quantities.get(taken.item, 0) + taken.micro
            draft.move(taken.item, taken.micro, taken.spot, Spot(self.customer, taken.within or ""))
        for item, quantity in quantities.items():
            draft.link(item, self.shipment, quantity=quantity)
        for taken in self.inside:
            if all(link.child != taken.within for link in draft.children(taken.item)):
                # tested again inside the carton, say: the carton claims its old state only
                draft.link(taken.item, self.shipment, quantity=taken.micro)
            draft.move(taken.item, taken.micro, taken.spot, Spot(self.customer, taken.within or ""))


class Return(Event):
    """Pieces come back from a customer, on hold until they were looked at."""

    kind: Literal["return"] = "return"
    item: Code
    quantity: Amount | None = None
    customer: Code | None = None
    within: Code | None = None
    to_place: Code
    reason: Text = Field(min_length=1)
    hold: bool = True
    inside: Annotated[tuple[Taken, ...], FilledIn()] = Field(
        default=(), description="Filled in: what a carton that comes back holds"
    )

    def complete(self, shop: Shop) -> Self:
        """Find which pieces come back, check that they were there, spell out how many and whose."""
        found = self._find(shop)
        item, spot, there = found
        amount = there if self.quantity is None else to_micro(self.quantity)
        self._check(shop, found, amount)
        return self.but(
            item=item.code,
            quantity=from_micro(amount or MICRO),
            customer=spot.place,
            within=spot.within or None,
            inside=self.inside or contents_of(shop, item, spot.place),
        )

    def _find(self, shop: Shop) -> _Found:
        """Find the pieces where most of them are at a customer, or at the one that is named."""
        item = shop.resolve(self.item)
        shop.check_place(self.to_place)
        out = {
            spot: q
            for spot, q in shop.view.stock(item.code).items()
            if q > 0 and not spot.is_end and self._may_come_from(shop, spot)
        }
        spot = max(out, key=lambda where: out[where], default=None)
        if self.customer and self.within:
            spot = Spot(self.customer, self.within)
        if spot is None:
            spot = Spot(self.customer or UNKNOWN, self.within or "")
        return _Found(item, spot, out.get(spot, 0))

    def _may_come_from(self, shop: Shop, spot: Spot) -> bool:
        """Tell whether it is at the customer that is named; at any customer if none is."""
        if self.customer is not None:
            return spot.place == self.customer
        return self._is_customer(shop, spot)

    def _check(self, shop: Shop, found: _Found, amount: int) -> None:
        """Check that so much was shipped there.

        Raises:
            RuleBroken: It was not (asked events only).
        """
        item, _, there = found
        if not there or amount > there:
            shop.breach(
                "not-shipped",
                item.code,
                f"{item.code} is not recorded as shipped"
                + (f" to {self.customer}" if self.customer else "")
                + (", or not as much of it" if there else ""),
                hint="check the serial, or record the shipment first",
            )
        shop.check_amount(item.code, item.unit, amount or (MICRO if item.kind == "unit" else 0))

    def _is_customer(self, shop: Shop, spot: Spot) -> bool:
        if shop.plan is None:
            return True
        return shop.place_kind(spot.place) == "customer"

    def establish(self, draft: Draft) -> None:
        """Hold what came back, and let closed cases know."""
        for code in (self.item, *(taken.item for taken in self.inside)):
            draft.fact("came-back", code)
            if self.hold:
                draft.fact("hold", code, reason=f"returned: {self.reason}")

    def derive(self, draft: Draft) -> None:
        """Move the pieces back into the works."""
        draft.move(
            self.item,
            to_micro(self.quantity or 0),
            Spot(self.customer or "", self.within or ""),
            Spot(self.to_place),
        )
        take_along(draft, self.inside, self.to_place)
