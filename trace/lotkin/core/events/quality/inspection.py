"""`inspect`: what was measured, with which gauge, and whether it is accepted."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Annotated, Literal, Self

from pydantic import Field

from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Amount, Code, Event, PartOfEvent, Reading, Text
from lotkin.core.events.parts.filled_in import FilledIn
from lotkin.core.genealogy.items import Item
from lotkin.core.genealogy.unit_state import new_state
from lotkin.core.rules.leading import Mode
from lotkin.core.values.kinds import Family
from lotkin.core.values.places import End, Spot
from lotkin.core.values.quantities import from_micro, to_micro

if TYPE_CHECKING:
    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["Inspect", "Measure"]


class Measure(PartOfEvent):
    """One characteristic: its values and its limits as they stood."""

    name: Text
    values: tuple[Reading, ...] = Field(min_length=1)
    unit: Text = ""
    min: Reading | None = None
    max: Reading | None = None

    @property
    def is_met(self) -> bool:
        """Tell whether all values lie within the limits."""
        low_ok = self.min is None or min(self.values) >= self.min
        return low_ok and (self.max is None or max(self.values) <= self.max)


class Inspect(Event):
    """A lot is looked at: accepted, rejected or set on hold.

    Once part of the lot was used, what is left becomes a new item, since what was used before was
    not looked at. Pieces cut open or worn out by it are `samples`.
    """

    kind: Literal["inspect"] = "inspect"
    item: Code
    inspection: Code = Field(description="Code of this inspection")
    result: Literal["accepted", "rejected", "hold"]
    reason: Text = ""
    resources: tuple[Code, ...] = Field(default=(), description="Gauges used")
    measures: tuple[Measure, ...] = ()
    checked: Amount | None = Field(default=None, description="How many were looked at")
    samples: Amount | None = Field(default=None, description="How many were used up by it")
    place: Code | None = None
    within: Code | None = None
    rest: Code | None = Field(default=None, description="New code of the rest of a used lot")
    rest_quantity: Amount | None = None
    unmet: Annotated[Text, FilledIn()] = Field(
        default="", description="Filled in: what is out of its limits, so that it stays held"
    )
    hold: Annotated[Text, FilledIn()] = Field(
        default="", description="Filled in: why it stays held, though accepted"
    )
    relabels: Annotated[bool, FilledIn()] = Field(
        default=False, description="Filled in: the rest is all there is, so the label leads to it"
    )

    def complete(self, shop: Shop) -> Self:
        """Find lot and gauges, check the result, spell out whether the rest is a new item."""
        item, found = self._find(shop)
        checked = found._check(shop, item)
        return checked._spell_out(shop, item)

    def _find(self, shop: Shop) -> tuple[Item, Self]:
        """Find the lot, and what it was inspected with."""
        item = shop.resolve(self.item)
        if item.family is not Family.MATERIAL or item.kind in ("heat", "source-lot"):
            raise BadEvent(item.code, f"is a {item.kind}; only material in the works is inspected")
        shop.free_code(self.inspection)
        return item, self.but(item=item.code, resources=self._gauges(shop))

    def _check(self, shop: Shop, item: Item) -> Self:
        """Check that the result agrees with what was measured, and note why it stays held.

        Raises:
            RuleBroken: It is accepted out of its limits, or without the right (asked events only).
        """
        unmet = ", ".join(m.name for m in self.measures if not m.is_met)
        if self.result == "accepted" and unmet:
            shop.breach(
                "out-of-limits",
                item.code,
                f"{item.code} cannot be accepted: {unmet} out of limits",
                hint="reject it, or correct the values",
            )
        if self.result != "accepted" and not self.reason:
            raise BadEvent(item.code, f"an inspection that ends in {self.result} needs a reason")
        hold = self.hold if shop.mode is Mode.AMENDED else self._stays_held(shop, item)
        return self.but(unmet=unmet if self.result == "accepted" else "", hold=hold)

    def _spell_out(self, shop: Shop, item: Item) -> Self:
        """Say where it lay, and what is left as an item of its own if the lot was used before."""
        spot = shop.spot_of(item, self.place or "", self.within or "")
        done = self.but(place=spot.place, within=spot.within or None)
        if self.samples and to_micro(self.samples) > shop.on_hand(item, spot):
            shop.breach("not-enough", item.code, f"{item.code}: fewer than that are at {spot}")
        was_fresh = shop.mode is Mode.AMENDED or not shop.view.is_used(item.code)
        if self.rest is None and was_fresh:
            return done
        return done._with_rest(shop, item, spot)

    def _with_rest(self, shop: Shop, item: Item, spot: Spot) -> Self:
        """Say how much is left, and whether the label of the lot leads to it."""
        rest = self.rest or shop.next_state(item)
        shop.free_code(rest)
        left = self.rest_quantity
        if left is None:
            left = from_micro(max(shop.on_hand(item, spot), 0))
        if not left:
            raise BadEvent(item.code, f"has nothing left at {spot} that could be inspected")
        elsewhere = sum(
            q for s, q in shop.view.stock(item.code).items() if not s.is_end and s != spot
        )
        all_of_it = not elsewhere and to_micro(left) == shop.on_hand(item, spot)
        relabels = self.relabels if shop.mode is Mode.AMENDED else all_of_it
        return self.but(rest=rest, rest_quantity=left, relabels=relabels)

    def _gauges(self, shop: Shop) -> tuple[str, ...]:
        """Find what it was inspected with.

        Raises:
            RuleBroken: It is no equipment, held, or out of its period (asked events only).
        """
        gauges = []
        for text in self.resources:
            gauge = shop.resolve(text)
            if gauge.family is not Family.RESOURCE:
                shop.breach(
                    "no-test-equipment",
                    gauge.code,
                    f"{gauge.code} is a {gauge.kind}, with which nothing is inspected",
                    hint="name the gauge that was used",
                )
            shop.check_free(gauge, "used for an inspection")
            gauges.append(gauge.code)
        return tuple(gauges)

    def _stays_held(self, shop: Shop, item: Item) -> str:
        """Say why an accepted item stays held; "" if whoever inspected it may free it.

        Raises:
            RuleBroken: It stays held (asked events only).
        """
        held = shop.view.hold(item.code) or ""
        if self.result != "accepted" or not held or shop.may_judge:
            return ""
        shop.breach(
            "no-right",
            item.code,
            f"{item.code} is held ({held}), and {self.by} may not free it",
            hint="let somebody of quality inspect it",
        )
        return held

    @property
    def subject(self) -> str:
        """Code of the item that the inspection is linked to."""
        return self.rest or self.item

    def establish(self, draft: Draft) -> None:
        """Hold or free the item."""
        reason = self.hold if self.result == "accepted" else f"{self.result}: {self.reason}"
        if self.unmet:
            reason = f"accepted although out of limits: {self.unmet}"
        draft.fact("hold", self.subject, reason=reason)
        if self.relabels and self.rest is not None:
            draft.fact("label", self.item, item=self.rest)

    def derive(self, draft: Draft) -> None:
        """Make the inspection, the rest if it needs a code, and link them."""
        item = draft.item(self.item)
        draft.make(
            Item(
                code=self.inspection,
                kind="inspection",
                part=item.part,
                made_at=self.at_us,
                event=draft.seq,
                station=self.station or "",
                plan=draft.plan,
            ),
            None,
        )
        for gauge in self.resources:
            draft.link(gauge, self.inspection)
        spot = Spot(self.place or "", self.within or "")
        if self.rest is not None and self.rest_quantity is not None:
            quantity = to_micro(self.rest_quantity)
            if item.kind == "unit":
                new_state(draft, item, self.rest, spots=(spot, spot))
            else:
                rest = replace(
                    item,
                    code=self.rest,
                    quantity=quantity,
                    made_at=self.at_us,
                    event=draft.seq,
                    plan=draft.plan,
                )
                draft.make(rest, spot)
                draft.link(item.code, self.rest, quantity=quantity)
                draft.move(item.code, quantity, spot, Spot(End.USED_IN))
        draft.expose(self.inspection, self.subject)
        if self.samples:
            draft.move(self.subject, to_micro(self.samples), spot, Spot(End.SAMPLE))
