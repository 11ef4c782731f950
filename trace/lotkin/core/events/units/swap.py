"""`swap` and `dismantle`: a unit is changed or taken apart."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Annotated, Literal, Self

from pydantic import Field

from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Amount, Code, Event, PartOfEvent, Text
from lotkin.core.events.parts.filled_in import FilledIn
from lotkin.core.events.units.fitted import Fitted, fit, link_fitted
from lotkin.core.genealogy.draft import Draft
from lotkin.core.genealogy.unit_state import components, new_state
from lotkin.core.rules.leading import Mode
from lotkin.core.values.kinds import Mixing
from lotkin.core.values.places import End, Spot
from lotkin.core.values.quantities import MICRO, from_micro, show_quantity, to_micro

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.genealogy.items import Item
    from lotkin.core.rules.checking import Shop

__all__ = ["Dismantle", "Removed", "Swap"]


class Removed(PartOfEvent):
    """A component taken out of a unit: an item of its own from then on.

    `place` says where it is kept, `end` where it went if it is not.
    """

    item: Code
    position: Text = ""
    quantity: Amount | None = None
    code: Code | None = None
    place: Code | None = None
    end: Literal["scrap", "sample", "lost"] = "scrap"
    hold: Text = ""
    instead: Annotated[tuple[Code, ...], FilledIn()] = Field(
        default=(), description="Filled in: lots it may have come from instead"
    )

    @property
    def micro(self) -> int:
        """Millionths taken out (after completion)."""
        return MICRO if self.quantity is None else to_micro(self.quantity)


def complete_removed(shop: Shop, unit: Item, removed: Removed) -> Removed:
    """Find the component in the unit; it gets its next code."""
    inside = components(Draft(shop.view), unit.code)
    at_position = [one for one in inside if removed.position in ("", one.position)]
    current = shop.view.label(removed.item) or removed.item
    found = [one for one in at_position if {removed.item, current} & set(one.lots)]
    if not found:
        raise BadEvent(
            unit.code,
            f"holds no {removed.item}" + (f" at {removed.position}" if removed.position else ""),
            hint=f"`lotkin where-from {unit.code}` lists what is in it",
        )
    one = found[0]
    item = Draft(shop.view).item(one.lots[0])
    quantity = one.per if removed.quantity is None else to_micro(removed.quantity)
    shop.check_amount(item.code, item.unit, quantity)
    if quantity > one.per:
        raise BadEvent(
            unit.code, f"holds less than {show_quantity(quantity, item.unit)} of {item.code}"
        )
    if removed.place is not None:
        shop.check_place(removed.place)
    code = removed.code or shop.next_state(item)
    shop.free_code(code)
    return removed.but(
        item=item.code,
        position=one.position,
        quantity=from_micro(quantity),
        code=code,
        instead=one.lots[1:],
    )


def complete_all(shop: Shop, unit: Item, removed: Sequence[Removed]) -> tuple[Removed, ...]:
    """Complete all that is taken out of a unit, together no more than it holds.

    Raises:
        BadEvent: The unit holds no such component, or not as much.
    """
    done = tuple(complete_removed(shop, unit, one) for one in removed)
    inside: dict[tuple[str, str], int] = {}
    for one in components(Draft(shop.view), unit.code):
        key = (one.lots[0], one.position)
        inside[key] = inside.get(key, 0) + one.per
    for (lot, position), quantity in out_of(done).items():
        if quantity > inside.get((lot, position), 0):
            item = Draft(shop.view).item(lot)
            raise BadEvent(
                unit.code, f"holds less than {show_quantity(quantity, item.unit)} of {lot}"
            )
    return done


def settle(draft: Draft, unit: str, removed: Sequence[Removed]) -> list[Removed]:
    """Find what was taken out in the unit as it reads now.

    A correction of what was mounted changes which lot a position held; what was taken out of that
    position came from that lot.

    Raises:
        BadEvent: The unit holds nothing there any more.
    """
    settled = []
    inside = components(draft, unit)
    for one in removed:
        at = [c for c in inside if c.position == one.position]
        found = [c for c in at if one.item in c.lots] or (at if one.position else [])
        if not found:
            raise BadEvent(unit, f"would not hold {one.item} that was taken out of it later")
        lots = found[0].lots
        settled.append(one.but(item=lots[0], instead=lots[1:]))
    return settled


def out_of(removed: Sequence[Removed]) -> dict[tuple[str, str], int]:
    """Sum what was taken out by (lot, position)."""
    out: dict[tuple[str, str], int] = {}
    for one in removed:
        key = (one.item, one.position)
        out[key] = out.get(key, 0) + one.micro
    return out


def recover(draft: Draft, removed: Removed) -> None:
    """Make what was taken out an item: it descends from its lot, not from the unit."""
    old = draft.item(removed.item)
    code = removed.code or ""
    draft.make(
        replace(
            old,
            code=code,
            quantity=removed.micro,
            made_at=draft.at,
            started_at=None,
            event=draft.seq,
            plan=draft.plan,
        ),
        Spot(removed.place or removed.end),
    )
    number = draft.group(code)
    mixing = Mixing.EITHER if removed.instead else Mixing.EACH
    draft.link(old.code, code, mixing, group=number, quantity=removed.micro)
    for lot in removed.instead:
        draft.link(lot, code, mixing, group=number)
    if old.serial:
        draft.fact("label", old.serial, item=code)
    if removed.hold:
        draft.fact("hold", code, reason=removed.hold)


def check_out_of_carton(shop: Shop, unit: Item, spot: Spot) -> None:
    """Check that a unit that is to be changed is not packed; a shipped one may be."""
    if spot.within and shop.place_kind(spot.place) != "customer":
        shop.breach(
            "in-a-carton",
            unit.code,
            f"{unit.code} is in {spot.within}",
            hint="unpack it first",
        )


class Swap(Event):
    """Components of a unit are exchanged, or it is reworked; it becomes its next state.

    Which of its pieces went where is said by `remove`; with nothing removed or added it is a
    repair that changes no component.
    """

    kind: Literal["swap"] = "swap"
    unit: Code
    place: Code | None = None
    within: Code | None = None
    to_place: Code | None = None
    code: Code | None = Field(default=None, description="Of the new state; made up if left out")
    remove: tuple[Removed, ...] = ()
    add: tuple[Fitted, ...] = ()
    hold: Annotated[Text, FilledIn()] = Field(
        default="", description="Filled in: why the unit was held, and still is"
    )

    def complete(self, shop: Shop) -> Self:
        """Find unit and components; a swap is allowed on a held unit, its state stays held."""
        unit = shop.resolve(self.unit)
        if unit.kind != "unit":
            raise BadEvent(unit.code, "is not a unit")
        code = self.code or shop.next_state(unit)
        shop.free_code(code)
        spot = shop.spot_of(unit, self.place or "", self.within or "")
        if shop.on_hand(unit, spot) <= 0:
            shop.breach(
                "not-enough",
                unit.code,
                f"{unit.code} is not at {spot}",
                hint="record where it came back to first",
            )
        check_out_of_carton(shop, unit, spot)
        shop.check_case(unit, "reworked")
        if self.to_place:
            shop.check_place(self.to_place)
        held = shop.view.hold(unit.code) or ""
        return self.but(
            hold=held if shop.mode is not Mode.AMENDED else self.hold,
            unit=unit.code,
            place=spot.place,
            within=spot.within or None,
            to_place=self.to_place or spot.place,
            code=code,
            remove=complete_all(shop, unit, self.remove),
            add=fit(shop, self.add, code),
        )

    def establish(self, draft: Draft) -> None:
        """Keep the hold on the unit."""
        if self.hold:
            draft.fact("hold", self.code or "", reason=self.hold)

    def derive(self, draft: Draft) -> None:
        """Make the next state, and what was taken out of the old one."""
        old = draft.item(self.unit)
        removed = settle(draft, old.code, self.remove)
        new = new_state(
            draft,
            old,
            self.code or "",
            spots=(Spot(self.place or "", self.within or ""), Spot(self.to_place or "")),
            out=out_of(removed),
        )
        for one in removed:
            recover(draft, one)
        for fitted in self.add:
            draft.move(fitted.item, fitted.micro, fitted.spot, Spot(End.USED_IN))
        link_fitted(draft, new.code, self.add)


class Dismantle(Event):
    """A unit is taken apart: what is recovered becomes stock again, the rest is scrapped."""

    kind: Literal["dismantle"] = "dismantle"
    unit: Code
    place: Code | None = None
    within: Code | None = None
    code: Code | None = Field(default=None, description="Of what is left of it")
    recovered: tuple[Removed, ...] = ()
    end: Literal["scrap", "sample"] = "scrap"

    def complete(self, shop: Shop) -> Self:
        """Find unit and components."""
        unit = shop.resolve(self.unit)
        if unit.kind != "unit":
            raise BadEvent(unit.code, "is not a unit")
        code = self.code or shop.next_state(unit)
        shop.free_code(code)
        spot = shop.spot_of(unit, self.place or "", self.within or "")
        shop.check_case(unit, "taken apart")
        return self.but(
            unit=unit.code,
            place=spot.place,
            within=spot.within or None,
            code=code,
            recovered=complete_all(shop, unit, self.recovered),
        )

    def derive(self, draft: Draft) -> None:
        """Make what is left, scrapped at once, and each recovered component."""
        recovered = settle(draft, self.unit, self.recovered)
        new_state(
            draft,
            draft.item(self.unit),
            self.code or "",
            spots=(Spot(self.place or "", self.within or ""), Spot(self.end)),
            out=out_of(recovered),
        )
        for one in recovered:
            recover(draft, one)
