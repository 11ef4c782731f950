"""`pack` and `unpack`: pieces go into a carton, and some come out again."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal, NamedTuple, Self

from pydantic import Field

from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Amount, Code, Event, Text
from lotkin.core.events.parts.filled_in import FilledIn
from lotkin.core.events.parts.inputs import Taken, contents_of, take
from lotkin.core.events.stock.leaving import check_tested, take_along
from lotkin.core.genealogy.items import Item
from lotkin.core.rules.leading import Mode
from lotkin.core.rules.written_codes import check_carton
from lotkin.core.values.places import UNKNOWN, Spot
from lotkin.core.values.quantities import MICRO, from_micro, to_micro

if TYPE_CHECKING:
    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["Pack", "Unpack"]


class _Found(NamedTuple):
    """A carton, what comes out of it, and how much of that is inside where it stands."""

    carton: Item
    item: Item
    is_inside: bool
    place: str
    there: int


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
        take_along(draft, self.inside, self.place or "")


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
        """Find carton and pieces, check that they are in it, spell out how many come out.

        Holds do not stand in the way.
        """
        found = self._find(shop)
        amount = found.there if self.quantity is None else to_micro(self.quantity)
        self._check(shop, found, amount)
        return self.but(
            carton=found.carton.code,
            item=found.item.code,
            quantity=from_micro(amount),
            place=found.place,
            to_place=self.to_place or found.place,
            inside=self.inside or contents_of(shop, found.item, found.place),
        )

    def _find(self, shop: Shop) -> _Found:
        """Find the carton where it stands, and the pieces in it."""
        carton = shop.resolve(self.carton)
        item = shop.resolve(self.item)
        if carton.kind != "carton":
            raise BadEvent(carton.code, "is not a carton")
        inside = {where: q for code, where, q in shop.view.within(carton.code) if code == item.code}
        spot = max(inside, key=lambda where: inside[where], default=None)
        place = self.place or (spot.place if spot else self.station or UNKNOWN)
        there = inside.get(Spot(place, carton.code), 0)
        return _Found(carton, item, bool(inside), place, there)

    def _check(self, shop: Shop, found: _Found, amount: int) -> None:
        """Check that so much is inside, and that the carton is still here.

        Raises:
            RuleBroken: There is less, or it was shipped (asked events only).
        """
        carton, item = found.carton.code, found.item
        is_new = shop.mode is not Mode.AMENDED
        if not found.is_inside and is_new:
            shop.breach("not-inside", item.code, f"{item.code} is not in {carton}")
        shop.check_amount(item.code, item.unit, amount)
        if amount > found.there and is_new:
            shop.breach("not-enough", item.code, f"{carton} holds less of {item.code}")
        if any(link.child != carton for link in shop.view.children(carton)):
            shop.breach(
                "shipped",
                carton,
                f"{carton} has been shipped",
                hint="record a return of the pieces instead",
            )
        if self.to_place:
            shop.check_place(self.to_place)

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
        take_along(draft, self.inside, self.to_place or "")
