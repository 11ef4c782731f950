"""`split`: one lot becomes several, each of which goes its own way."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, Self

from pydantic import Field

from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Amount, Code, Event, PartOfEvent
from lotkin.core.events.parts.inputs import Taken, take
from lotkin.core.genealogy.items import Item
from lotkin.core.values.places import End, Spot
from lotkin.core.values.quantities import from_micro, to_micro

if TYPE_CHECKING:
    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["Split", "SplitPart"]


class SplitPart(PartOfEvent):
    """One of the lots that a lot is split into."""

    code: Code
    quantity: Amount
    place: Code | None = None


class Split(Event):
    """Part or all of a lot under new codes; what is not named stays with the old one."""

    kind: Literal["split"] = "split"
    item: Code
    place: Code | None = None
    within: Code | None = None
    parts: tuple[SplitPart, ...] = Field(min_length=1)

    def complete(self, shop: Shop) -> Self:
        """Find the lot, check that there is enough of it, spell out places."""
        item = shop.resolve(self.item)
        if len({part.code for part in self.parts}) != len(self.parts):
            raise BadEvent(item.code, "two parts have the same code")
        total = sum(to_micro(part.quantity, record=part.code) for part in self.parts)
        for part in self.parts:
            shop.free_code(part.code)
            shop.check_amount(part.code, item.unit, to_micro(part.quantity))
            if part.place:
                shop.check_place(part.place)
        wanted = Taken(
            item=item.code, quantity=from_micro(total), place=self.place, within=self.within
        )
        taken = take(shop, wanted, doing="split")
        return self.but(
            item=item.code,
            place=taken.place,
            within=taken.within,
            parts=tuple(part.but(place=part.place or taken.place) for part in self.parts),
        )

    def derive(self, draft: Draft) -> None:
        """Make each part and link it to the lot."""
        old = draft.item(self.item)
        spot = Spot(self.place or "", self.within or "")
        counted = draft.facts("due-by-plan", old.code)
        measured = draft.facts("bar-length", old.code)
        for part in self.parts:
            quantity = to_micro(part.quantity)
            draft.make(
                Item(
                    code=part.code,
                    kind=old.kind,
                    part=old.part,
                    quantity=quantity,
                    unit=old.unit,
                    made_at=self.at_us,
                    event=draft.seq,
                    step=old.step,
                    supplier=old.supplier,
                    supplier_lot=old.supplier_lot,
                    due_at=old.due_at,
                    plan=draft.plan,
                ),
                Spot(part.place or ""),
            )
            if counted:
                draft.fact("due-by-plan", part.code, **counted[-1].value)
            if measured:
                draft.fact("bar-length", part.code, **measured[-1].value)
            draft.link(old.code, part.code, quantity=quantity)
            draft.move(old.code, quantity, spot, Spot(End.USED_IN))
