"""`move`, `scrap` and `count`: pieces change place, stop being of use, or are counted."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal, Self

from pydantic import Field

from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Amount, Code, Event, PartOfEvent, Text
from lotkin.core.events.parts.filled_in import FilledIn
from lotkin.core.events.parts.inputs import Taken, contents_of
from lotkin.core.genealogy.items import Item
from lotkin.core.values.kinds import Mixing
from lotkin.core.values.places import End, Spot
from lotkin.core.values.quantities import allocate, from_micro, to_micro

if TYPE_CHECKING:
    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["Count", "Found", "Move", "Scrap"]


class Move(Event):
    """Pieces go from one place to another."""

    kind: Literal["move"] = "move"
    item: Code
    quantity: Amount | None = None
    place: Code | None = None
    within: Code | None = None
    to_place: Code
    inside: Annotated[tuple[Taken, ...], FilledIn()] = Field(
        default=(), description="Filled in: what a carton holds and takes along"
    )

    def complete(self, shop: Shop) -> Self:
        """Find item and places; a held item may only go to quarantine."""
        item = shop.lot_of(self.item)
        shop.check_place(self.to_place)
        spot = shop.spot_of(item, self.place or "", self.within or "")
        wanted = None if self.quantity is None else to_micro(self.quantity)
        target = shop.plan.place(self.to_place) if shop.plan is not None else None
        if target is not None and target.kind == "quarantine":
            amount = shop.on_hand(item, spot) if wanted is None else wanted
            shop.check_amount(item.code, item.unit, amount)
            if amount > shop.on_hand(item, spot):
                shop.breach("not-enough", item.code, f"{item.code}: fewer than that are at {spot}")
        else:
            amount = shop.take(item, wanted, spot, doing="moved")
        return self.but(
            item=item.code,
            quantity=from_micro(amount),
            place=spot.place,
            within=spot.within or None,
            inside=self.inside or contents_of(shop, item, spot.place),
        )

    def derive(self, draft: Draft) -> None:
        """Move the pieces; a carton takes along what is in it."""
        quantity = to_micro(self.quantity or 0)
        spot = Spot(self.place or "", self.within or "")
        draft.move(self.item, quantity, spot, Spot(self.to_place, self.within or ""))
        for taken in self.inside:
            draft.move(taken.item, taken.micro, taken.spot, Spot(self.to_place, taken.within or ""))


class Scrap(Event):
    """Pieces stop being of use: scrapped, cut open as samples, lost in a process, or lost."""

    kind: Literal["scrap"] = "scrap"
    item: Code
    quantity: Amount | None = None
    place: Code | None = None
    within: Code | None = None
    end: Literal["scrap", "sample", "process loss", "lost"] = "scrap"
    reason: Text = Field(min_length=1)

    def complete(self, shop: Shop) -> Self:
        """Find item and place; holds do not stand in the way."""
        item = shop.resolve(self.item)
        spot = shop.spot_of(item, self.place or "", self.within or "")
        there = shop.on_hand(item, spot)
        amount = there if self.quantity is None else to_micro(self.quantity, record=item.code)
        shop.check_amount(item.code, item.unit, amount)
        if amount > there:
            shop.breach("not-enough", item.code, f"{item.code}: fewer than that are at {spot}")
        return self.but(
            item=item.code,
            quantity=from_micro(amount),
            place=spot.place,
            within=spot.within or None,
        )

    def derive(self, draft: Draft) -> None:
        """Move the pieces to their end."""
        spot = Spot(self.place or "", self.within or "")
        draft.move(self.item, to_micro(self.quantity or 0), spot, Spot(self.end))


class Found(PartOfEvent):
    """Pieces found without a label.

    `candidates` are the lots they may be of: the whole bin of one of them (`either`), or of
    several at once (`one-of`).
    """

    code: Code
    candidates: tuple[Code, ...] = Field(min_length=1)
    quantity: Amount
    mixing: Literal["either", "one-of"] = "either"
    weights: Annotated[tuple[Amount, ...], FilledIn()] = Field(
        default=(), description="Filled in: sizes of the lots"
    )
    hold: Text = "found without a label"


class Count(Event):
    """A shelf is counted; what differs from the book is lost, or found."""

    kind: Literal["count"] = "count"
    place: Code
    within: Code | None = None
    item: Code | None = None
    counted: Amount | None = None
    book: Annotated[Amount | None, FilledIn()] = Field(
        default=None, description="Filled in: what the book said"
    )
    book_below: Annotated[Amount | None, FilledIn()] = Field(
        default=None, description="Filled in: how far below zero"
    )
    found: Found | None = None

    def complete(self, shop: Shop) -> Self:
        """Find what the book says, and the lots that found pieces may be of."""
        shop.check_place(self.place)
        if (self.item is None) == (self.found is None):
            raise BadEvent(self.place, "a count is of an item, or of pieces found: name one")
        if self.found is not None:
            return self.but(found=self._complete_found(shop, self.found))
        if self.counted is None or self.item is None:
            raise BadEvent(self.place, "a count needs the quantity counted")
        item = shop.resolve(self.item)
        if self.counted:
            shop.check_amount(item.code, item.unit, to_micro(self.counted, record=item.code))
        book = self.book
        below = self.book_below
        if book is None:
            there = shop.on_hand(item, Spot(self.place, self.within or ""))
            book = from_micro(max(there, 0))
            below = from_micro(-there) if there < 0 else None
        return self.but(item=item.code, book=book, book_below=below)

    def _complete_found(self, shop: Shop, found: Found) -> Found:
        shop.free_code(found.code)
        items = [shop.resolve(code) for code in found.candidates]
        if len({item.unit for item in items}) > 1 or len({item.part for item in items}) > 1:
            raise BadEvent(found.code, "the candidate lots are of different parts")
        if len({item.code for item in items}) != len(items):
            raise BadEvent(found.code, "a candidate lot is named twice")
        shop.check_amount(found.code, items[0].unit, to_micro(found.quantity, record=found.code))
        weights = tuple(from_micro(item.quantity or 0) for item in items)
        return found.but(candidates=tuple(item.code for item in items), weights=weights)

    def establish(self, draft: Draft) -> None:
        """Hold what was found, and let closed cases know."""
        if self.found is not None:
            draft.fact("turned-up", self.found.code)
        elif self.item is not None and self.counted and self.counted > (self.book or 0):
            draft.fact("turned-up", self.item)
        if self.found is not None and self.found.hold:
            draft.fact("hold", self.found.code, reason=self.found.hold)

    def derive(self, draft: Draft) -> None:
        """Post the difference, or make the found lot from its candidates."""
        spot = Spot(self.place, self.within or "")
        if self.found is not None:
            self._derive_found(draft, self.found, spot)
        elif self.item is not None:
            book = to_micro(self.book or 0) - to_micro(self.book_below or 0)
            difference = to_micro(self.counted or 0) - book
            if difference < 0:
                draft.move(self.item, -difference, spot, Spot(End.LOST))
            else:
                draft.move(self.item, difference, Spot(End.LOST), spot)

    def _derive_found(self, draft: Draft, found: Found, spot: Spot) -> None:
        first = draft.item(found.candidates[0])
        quantity = to_micro(found.quantity)
        draft.make(
            Item(
                code=found.code,
                kind=first.kind if len(found.candidates) == 1 else "mixed-lot",
                part=first.part,
                quantity=quantity,
                unit=first.unit,
                made_at=draft.at,
                event=draft.seq,
                step=first.step,
                plan=draft.plan,
            ),
            spot,
        )
        number = draft.group(found.code)
        mixing = Mixing(found.mixing) if len(found.candidates) > 1 else Mixing.EACH
        shares = allocate(quantity, [to_micro(weight) for weight in found.weights])
        for code, share in zip(found.candidates, shares, strict=True):
            draft.link(code, found.code, mixing, group=number, quantity=share)
            draft.move(code, share, Spot(End.LOST), Spot(End.USED_IN))
