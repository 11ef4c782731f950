"""`identify`: pieces of a mixture are proven to be of certain of its parents."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Annotated, Literal, NamedTuple, Self

from pydantic import Field

from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Amount, Code, Event, Text
from lotkin.core.events.parts.filled_in import FilledIn
from lotkin.core.genealogy.draft import Draft, grouped
from lotkin.core.genealogy.mixtures import Identified, leaving, mixture_of
from lotkin.core.values.kinds import Mixing
from lotkin.core.values.places import Spot
from lotkin.core.values.quantities import allocate, from_micro, show_quantity, to_micro

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.genealogy.items import Item, Link
    from lotkin.core.rules.checking import Shop
    from lotkin.core.values.canonical import Json

__all__ = ["Identify"]


class _Found(NamedTuple):
    """The mixture, its proven parents, and the links of the group that they are in."""

    item: Item
    parents: tuple[str, ...]
    group: Sequence[Link]


class Identify(Event):
    """Pieces of a mixture leave it as a lot of their own, linked to the proven parents only.

    What remains of the mixture has that much less of these parents in it.
    """

    kind: Literal["identify"] = "identify"
    item: Code
    quantity: Amount
    code: Code
    parents: tuple[Code, ...] = Field(min_length=1)
    evidence: Text = Field(min_length=1)
    place: Code | None = None
    within: Code | None = None
    to_place: Code | None = None
    made_in: Annotated[int, FilledIn()] = Field(
        default=0, description="Filled in: event that made the mixture"
    )
    from_each: Annotated[tuple[Amount, ...], FilledIn()] = Field(
        default=(), description="Filled in: how much of each parent"
    )

    def complete(self, shop: Shop) -> Self:
        """Find the mixture and the group of the parents, check the amount, divide it over them."""
        found = self._find(shop)
        spot = self._check(shop, found)
        parts = self._from_each(shop, found)
        return self.but(
            item=found.item.code,
            parents=found.parents,
            place=spot.place,
            within=spot.within or None,
            to_place=self.to_place or spot.place,
            made_in=self.made_in or found.item.event,
            from_each=tuple(from_micro(part) for part in parts),
        )

    def _find(self, shop: Shop) -> _Found:
        """Find the mixture, and the group of its links that the parents are in."""
        item = shop.resolve(self.item)
        shop.free_code(self.code)
        parents = tuple(shop.resolve(code).code for code in self.parents)
        group = mixture_of(Draft(shop.view).parents(item.code), parents)
        if group is None:
            raise BadEvent(
                item.code,
                f"is no mixture of {', '.join(parents)} and others",
                hint=f"`lotkin where-from {item.code}` lists what it was made from",
            )
        return _Found(item, parents, group)

    def _check(self, shop: Shop, found: _Found) -> Spot:
        """Check that so much of it is where it is said to be; give where.

        Raises:
            RuleBroken: There is less (asked events only).
        """
        item = found.item
        spot = shop.spot_of(item, self.place or "", self.within or "")
        amount = to_micro(self.quantity, record=item.code)
        shop.check_amount(item.code, item.unit, amount)
        if amount > shop.on_hand(item, spot):
            shop.breach("not-enough", item.code, f"{item.code}: fewer than that are at {spot}")
        if len(set(found.parents)) != len(found.parents):
            raise BadEvent(item.code, "a parent is named twice")
        return spot

    def _from_each(self, shop: Shop, found: _Found) -> list[int]:
        """Divide what is taken over the proven parents, by how much of each is inside.

        Raises:
            BadEvent: That is more of one than the mixture holds.
        """
        item = found.item
        own = self._taken_so_far(shop, item.code)
        inside = {
            link.parent: (link.quantity or 0) + own.parts.get(link.parent, 0)
            for link in found.group
        }
        whole = (item.quantity or 0) + own.micro
        taken = to_micro(self.quantity) * sum(inside.values()) // whole if whole else 0
        parts = allocate(taken, [inside[code] for code in found.parents])
        for code, part in zip(found.parents, parts, strict=True):
            if part > inside[code]:
                unit = shop.resolve(code).unit
                raise BadEvent(
                    item.code, f"holds no more than {show_quantity(inside[code], unit)} of {code}"
                )
        return parts

    def _taken_so_far(self, shop: Shop, mixture: str) -> Identified:
        """Give what this event took of the mixture, if it is being amended."""
        entry = shop.view.entry_by_id(str(self.id))
        for fact in shop.view.facts("identified", mixture) if entry is not None else ():
            if entry is not None and fact.event == entry.seq:
                return Identified.of(fact)
        return Identified(0, {})

    @property
    def _taken(self) -> Identified:
        parts = zip(self.parents, self.from_each, strict=True)
        return Identified(to_micro(self.quantity), {code: to_micro(part) for code, part in parts})

    def establish(self, draft: Draft) -> None:
        """Note how much of which parent left the mixture."""
        taken = self._taken
        parts: dict[str, Json] = {code: str(part) for code, part in taken.parts.items()}
        draft.fact("identified", self.item, micro=str(taken.micro), parts=parts)

    def touches(self, draft: Draft) -> set[int]:
        """The event that made the mixture now made less of it."""
        return {draft.item(self.item).event}

    def derive(self, draft: Draft) -> None:
        """Make the identified lot: the proven parents, and all else that the mixture had."""
        old = draft.item(self.item)
        quantity = to_micro(self.quantity)
        draft.make(
            replace(
                old,
                code=self.code,
                quantity=quantity,
                made_at=self.at_us,
                event=draft.seq,
                serial="",
            ),
            Spot(self.to_place or ""),
        )
        if self.item not in draft.as_made:
            return  # derived once more together with the mixture
        whole, links = draft.as_made[self.item]
        for group in grouped(leaving(self.item, links, whole, self._taken)):
            number = draft.group(self.code)
            mixing = group[0].mixing if len(group) > 1 else Mixing.EACH
            for link in group:
                draft.link(
                    link.parent,
                    self.code,
                    mixing,
                    group=number,
                    quantity=link.quantity,
                    per=link.per,
                )
        self._level(draft, quantity)

    def _level(self, draft: Draft, quantity: int) -> None:
        """Take the pieces from where they lay, not from where the mixture was made."""
        here = Spot(self.place or "", self.within or "")
        made = next(
            (m.destination for m in draft.movements if m.item == self.item and m.origin is None),
            here,
        )
        if made != here:
            draft.move(self.item, quantity, here, made)
