"""`identify`: pieces of a mixture are proven to be of certain of its parents."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Literal, Self

from pydantic import Field

from lotkin.core.draft import Draft, grouped
from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Amount, Code, Event, Text
from lotkin.core.kinds import Mixing
from lotkin.core.places import Spot
from lotkin.core.quantities import allocate, from_micro, show_quantity, to_micro

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.items import Fact, Link
    from lotkin.core.shop import Shop

__all__ = ["Identify", "adjust"]


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
    made_in: int = Field(default=0, description="Filled in: event that made the mixture")
    from_each: tuple[Amount, ...] = Field(default=(), description="Filled in: pieces by parent")

    def complete(self, shop: Shop) -> Self:
        """Find the mixture and the group that the parents are in."""
        item = shop.resolve(self.item)
        shop.free_code(self.code)
        parents = tuple(shop.resolve(code).code for code in self.parents)
        group = _mixture(Draft(shop.view).parents(item.code), parents)
        if group is None:
            raise BadEvent(
                item.code,
                f"is no mixture of {', '.join(parents)} and others",
                hint=f"`lotkin where-from {item.code}` lists what it was made from",
            )
        spot = shop.spot_of(item, self.place or "", self.within or "")
        amount = to_micro(self.quantity, record=item.code)
        shop.check_amount(item.code, item.unit, amount)
        if amount > shop.on_hand(item, spot):
            shop.breach("not-enough", item.code, f"{item.code}: fewer than that are at {spot}")
        if len(set(parents)) != len(parents):
            raise BadEvent(item.code, "a parent is named twice")
        own = self._taken_so_far(shop, item.code)
        inside = {link.parent: (link.quantity or 0) + own.get(link.parent, 0) for link in group}
        parts = allocate(amount, [inside[code] for code in parents])
        for code, part in zip(parents, parts, strict=True):
            if inside[code] and part > inside[code]:
                raise BadEvent(
                    item.code,
                    f"holds no more than {show_quantity(inside[code], item.unit)} of {code}",
                )
        return self.but(
            item=item.code,
            parents=parents,
            place=spot.place,
            within=spot.within or None,
            to_place=self.to_place or spot.place,
            made_in=self.made_in or item.event,
            from_each=tuple(from_micro(part) for part in parts),
        )

    def _taken_so_far(self, shop: Shop, mixture: str) -> dict[str, int]:
        """Give what this event took of each parent, if it is being amended."""
        entry = shop.view.entry_by_id(str(self.id))
        facts = shop.view.facts("identified", mixture) if entry is not None else ()
        return {
            code: micro
            for fact in facts
            if entry is not None and fact.event == entry.seq
            for code, micro in _parts(fact)
        }

    def establish(self, draft: Draft) -> None:
        """Note how much of which parent left the mixture."""
        parts = zip(self.parents, self.from_each, strict=True)
        draft.fact(
            "identified", self.item, parts={code: str(to_micro(part)) for code, part in parts}
        )

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
        links = draft.parents(self.item)
        chosen = _mixture(links, self.parents)
        for group in grouped(links):
            number = draft.group(self.code)
            if (
                chosen is None
                or group[0].group != chosen[0].group
                or (group[0].event != chosen[0].event)
            ):
                for link in group:
                    share = _portion(link.quantity, quantity, (old.quantity or 0) + quantity)
                    draft.link(
                        link.parent,
                        self.code,
                        link.mixing,
                        group=number,
                        quantity=share,
                        per=link.per,
                    )
                continue
            mixing = group[0].mixing if len(self.parents) > 1 else Mixing.EACH
            for code, part in zip(self.parents, self.from_each, strict=True):
                draft.link(code, self.code, mixing, group=number, quantity=to_micro(part))
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


def _parts(fact: Fact) -> list[tuple[str, int]]:
    """List (parent, millionths) of an identification."""
    parts = fact.value.get("parts")
    return [(code, int(str(q))) for code, q in parts.items()] if isinstance(parts, dict) else []


def _portion(quantity: int | None, part: int, whole: int) -> int | None:
    if quantity is None or whole <= 0:
        return None
    return quantity * part // whole


def _mixture(links: Sequence[Link], parents: Sequence[str]) -> list[Link] | None:
    """Find the group of pieces of several lots that holds all the named parents."""
    for group in grouped(links):
        mixed = group[0].mixing in (Mixing.ONE_OF, Mixing.EITHER)
        if mixed and set(parents) <= {link.parent for link in group}:
            return group
    return None


def adjust(draft: Draft, made: Sequence[str]) -> None:
    """Lessen mixtures by what was identified from them.

    Args:
        draft: Holds the rows of the event that made the mixtures, as it made them.
        made: Codes of the items it made.
    """
    for code in made:
        gone: dict[str, int] = {}
        for fact in draft.facts("identified", code):
            for parent, micro in _parts(fact):
                gone[parent] = gone.get(parent, 0) + micro
        if gone:
            _lessen(draft, code, gone)


def _lessen(draft: Draft, code: str, gone: dict[str, int]) -> None:
    total = sum(gone.values())
    item = draft.items[code]
    whole = item.quantity or 0
    draft.items[code] = replace(item, quantity=whole - total)
    group = _mixture([link for link in draft.links if link.child == code], tuple(gone))
    chosen = {(link.event, link.group) for link in group or ()}
    for i, link in enumerate(draft.links):
        if link.child != code or link.quantity is None:
            continue
        if (link.event, link.group) in chosen:
            less = gone.get(link.parent, 0)
        else:
            less = _portion(link.quantity, total, whole) or 0
        draft.links[i] = replace(link, quantity=link.quantity - less)
    for i, movement in enumerate(draft.movements):
        if movement.item == code and movement.origin is None:
            draft.movements[i] = movement._replace(quantity=movement.quantity - total)
