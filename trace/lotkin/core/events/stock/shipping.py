"""`pack`, `unpack`, `ship` and `return`: finished goods leave the works, and some come back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal, Self

from pydantic import Field

from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Amount, Code, Event, Text
from lotkin.core.events.parts.filled_in import FilledIn
from lotkin.core.events.parts.inputs import Taken, contents_of, take
from lotkin.core.genealogy.items import Item
from lotkin.core.rules.written_codes import check_carton
from lotkin.core.values.places import UNKNOWN, Spot
from lotkin.core.values.quantities import MICRO, from_micro, to_micro

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["Pack", "Return", "Ship", "Unpack"]


def check_tested(shop: Shop, code: str, doing: str) -> None:
    """Check that a unit has passed every test that the plan asks for.

    Raises:
        RuleBroken: It has not (asked events only).
    """
    item = shop.exact(code)
    part = shop.plan.part(item.part) if shop.plan is not None else None
    if item.kind != "unit" or part is None:
        return
    results = {str(f.value["name"]): f.value["passed"] for f in shop.view.facts("test", code)}
    for test in part.tests:
        if results.get(test.name) is not True:
            shop.breach(
                "not-tested",
                code,
                f"{code} cannot be {doing}: it has not passed {test.name}",
                hint="record the test first",
            )


class Pack(Event):
    """Units, or lots sold as spares, go into a carton; packing again makes a new carton."""

    kind: Literal["pack"] = "pack"
    carton: Code
    place: Code | None = Field(default=None, description="Where the carton stands")
    contents: tuple[Taken, ...] = Field(min_length=1)
    part: Text = ""
    inside: Annotated[tuple[Taken, ...], FilledIn()] = Field(
        default=(), description="Filled in: what cartons that go into it hold"
    )

    def complete(self, shop: Shop) -> Self:
        """Find what goes in; it must be free, tested and there."""
        shop.free_code(self.carton)
        check_carton(shop, self.carton)
        contents = tuple(take(shop, taken, doing="packed") for taken in self.contents)
        for taken in contents:
            check_tested(shop, taken.item, "packed")
        place = self.place or contents[0].place
        shop.check_place(place or "")
        inside = self.inside or tuple(
            piece
            for taken in contents
            for piece in contents_of(shop, shop.exact(taken.item), taken.place or "")
        )
        return self.but(contents=contents, place=place, inside=inside)

    def derive(self, draft: Draft) -> None:
        """Make the carton and link what is in it; what was taken out has no claim on it."""
        draft.make(
            Item(
                code=self.carton,
                kind="carton",
                part=self.part,
                quantity=MICRO,
                unit="pcs",
                made_at=self.at_us,
                event=draft.seq,
                plan=draft.plan,
            ),
            Spot(self.place or ""),
        )
        out: dict[str, int] = {}
        for fact in draft.facts("unpacked", self.carton):
            item = str(fact.value["item"])
            out[item] = out.get(item, 0) + int(str(fact.value["micro"]))
        inside: dict[str, int] = {}
        for taken in self.contents:
            inside[taken.item] = inside.get(taken.item, 0) + taken.micro
            draft.move(taken.item, taken.micro, taken.spot, Spot(self.place or "", self.carton))
        for item, quantity in inside.items():
            left = quantity - out.get(item, 0)
            if left > 0:
                draft.link(item, self.carton, quantity=left)
        _take_along(draft, self.inside, self.place or "")


class Unpack(Event):
    """Pieces are taken out of a carton that has not been shipped; its claim on them ends."""

    kind: Literal["unpack"] = "unpack"
    carton: Code
    item: Code
    quantity: Amount | None = None
    place: Code | None = Field(default=None, description="Where the carton stands")
    to_place: Code | None = None
    inside: Annotated[tuple[Taken, ...], FilledIn()] = Field(
        default=(), description="Filled in: what a carton that is taken out holds"
    )

    def complete(self, shop: Shop) -> Self:
        """Find carton and pieces; holds do not stand in the way."""
        carton = shop.resolve(self.carton)
        item = shop.resolve(self.item)
        if carton.kind != "carton":
            raise BadEvent(carton.code, "is not a carton")
        inside = {where: q for code, where, q in shop.view.within(carton.code) if code == item.code}
        if not inside and shop.mode.value != "amended":
            shop.breach("not-inside", item.code, f"{item.code} is not in {carton.code}")
        spot = max(inside, key=lambda where: inside[where], default=None)
        place = self.place or (spot.place if spot else self.station or UNKNOWN)
        there = inside.get(Spot(place, carton.code), 0)
        amount = there if self.quantity is None else to_micro(self.quantity)
        shop.check_amount(item.code, item.unit, amount)
        if amount > there and shop.mode.value != "amended":
            shop.breach("not-enough", item.code, f"{carton.code} holds less of {item.code}")
        if any(link.child != carton.code for link in shop.view.children(carton.code)):
            shop.breach(
                "shipped",
                carton.code,
                f"{carton.code} has been shipped",
                hint="record a return of the pieces instead",
            )
        if self.to_place:
            shop.check_place(self.to_place)
        return self.but(
            carton=carton.code,
            item=item.code,
            quantity=from_micro(amount),
            place=place,
            to_place=self.to_place or place,
            inside=self.inside or contents_of(shop, item, place),
        )

    def establish(self, draft: Draft) -> None:
        """Note what was taken out."""
        micro = str(to_micro(self.quantity or 0))
        draft.fact("unpacked", self.carton, item=self.item, micro=micro)

    def touches(self, draft: Draft) -> set[int]:
        """The packing now claims less."""
        return {draft.item(self.carton).event}

    def derive(self, draft: Draft) -> None:
        """Move the pieces out."""
        draft.move(
            self.item,
            to_micro(self.quantity or 0),
            Spot(self.place or "", self.carton),
            Spot(self.to_place or ""),
        )
        _take_along(draft, self.inside, self.to_place or "")


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
        """Find which pieces come back, and from whom."""
        item = shop.resolve(self.item)
        shop.check_place(self.to_place)
        out = {
            spot: q
            for spot, q in shop.view.stock(item.code).items()
            if q > 0
            and not spot.is_end
            and self.customer in (None, spot.place)
            and (self.customer is not None or self._is_customer(shop, spot))
        }
        spot = max(out, key=lambda where: out[where], default=None)
        if self.customer and self.within:
            spot = Spot(self.customer, self.within)
        if spot is None:
            spot = Spot(self.customer or UNKNOWN, self.within or "")
        there = out.get(spot, 0)
        amount = there if self.quantity is None else to_micro(self.quantity)
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
        return self.but(
            item=item.code,
            quantity=from_micro(amount or MICRO),
            customer=spot.place,
            within=spot.within or None,
            inside=self.inside or contents_of(shop, item, spot.place),
        )

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
        _take_along(draft, self.inside, self.to_place)


def _take_along(draft: Draft, inside: Sequence[Taken], place: str) -> None:
    """Move what a carton holds to where the carton goes."""
    for taken in inside:
        if taken.place != place:
            draft.move(taken.item, taken.micro, taken.spot, Spot(place, taken.within or ""))
