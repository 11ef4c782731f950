"""Checking and completing an event before it is recorded: what is meant, which rules it breaks."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from lotkin.core.access.rights import Right
from lotkin.core.cases.membership import allows, decisions_in, is_member, open_cases
from lotkin.core.errors import (
    AmbiguousCode,
    AmbiguousSpot,
    BadQuantity,
    CodeTaken,
    NamesAnother,
    RuleBroken,
    UnknownCode,
    did_you_mean,
)
from lotkin.core.genealogy.view import Breach
from lotkin.core.rules.known_otherwise import known_otherwise, not_in_plan
from lotkin.core.values.instants import show_instant, to_us
from lotkin.core.values.kinds import Family
from lotkin.core.values.places import END_NAMES, UNKNOWN, Spot
from lotkin.core.values.planned_places import kind_of_place
from lotkin.core.values.quantities import is_whole, show_quantity

if TYPE_CHECKING:
    from datetime import datetime

    from lotkin.core.genealogy.items import Item
    from lotkin.core.genealogy.view import View
    from lotkin.core.plan import ShopPlan

__all__ = ["Mode", "Shop"]


AHEAD_US = 5 * 60_000_000
"""How far the clock of a device may be ahead; common practice, no source."""


class Mode(StrEnum):
    """How strictly an event is taken."""

    ASKED = "asked"
    REPORTED = "reported"
    AMENDED = "amended"


STOCK_RULES = frozenset(
    {"not-enough", "not-shipped", "place-not-said", "held", "case-held", "past-due"}
)


class Shop:
    """The works as one event meets it, with the strictness that the event is due.

    Attributes:
        now: When it is recorded, microseconds UTC; 0 where nothing is recorded.
        rights: Of whoever acts; None where these are not checked.
        breaches: Rules broken so far; an asked event raises at the first instead.
        reasons_to_hold: Why what the event makes is held, whoever records it.
    """

    def __init__(  # noqa: PLR0913 - what an event meets
        self,
        view: View,
        mode: Mode,
        *,
        at: int,
        plan: ShopPlan | None,
        kind: str = "",
        now: int = 0,
        rights: frozenset[Right] | None = None,
    ) -> None:
        self.view = view
        self.mode = mode
        self.at = at
        self.plan = plan
        self.kind = kind
        self.now = now
        self.rights = rights
        self.breaches: list[Breach] = []
        self.reasons_to_hold: list[str] = []
        self._spoken: dict[tuple[str, Spot], int] = {}
        self._named: set[str] = set()

    def breach(self, rule: str, record: str, message: str, *, hint: str = "") -> None:
        """Note a broken rule.

        Raises:
            RuleBroken: The event is asked for beforehand.
        """
        if self.mode is Mode.ASKED:
            raise RuleBroken(rule, record, message, hint)
        if self.mode is Mode.AMENDED and rule in STOCK_RULES:
            return  # the stock of today says nothing about that of the day
        self.breaches.append(Breach(rule, record, message))

    def hold_what_is_made(self, reason: str) -> None:
        """Note why what the event makes is to be held."""
        if reason not in self.reasons_to_hold:
            self.reasons_to_hold.append(reason)

    # --- who, and when

    @property
    def may_judge(self) -> bool:
        """Tell whether whoever acts has the right of quality; all have where nobody has a role."""
        return self.rights is None or Right.JUDGE in self.rights

    def check_person(self, by: str) -> None:
        """Check that a person is of the plan, or a machine; a plan without people tells nothing.

        Raises:
            RuleBroken: The plan has people, but not this one (asked events only).
        """
        if self.plan is None or not self.plan.people or self.plan.person(by) is not None:
            return
        machine = self.view.item(by)
        if self.plan.resource(by) or (machine is not None and machine.family is Family.RESOURCE):
            return
        message = f"{by} is nobody of the plan"
        if self.mode is Mode.ASKED and self.kind != "import":
            near = did_you_mean(by, [person.code for person in self.plan.people])
            raise RuleBroken(
                "unknown-person",
                by,
                message,
                near
                or "name who did it, by their code in the plan (`by`, or --by at the command line)",
            )
        self.breaches.append(Breach("unknown-person", by, message))

    def is_in_future(self, at: datetime) -> bool:
        """Tell whether a moment lies after the one at which the event is recorded."""
        return self.now > 0 and to_us(at) > self.now + AHEAD_US

    def breach_future(self, record: str, at: datetime) -> None:
        """Note that a moment lies in the future.

        Raises:
            RuleBroken: The event is asked for.
        """
        said, now = show_instant(to_us(at)), show_instant(self.now)
        self.breach(
            "in-the-future",
            record,
            f"{record} says {said}, which is in the future: it is {now}",
            hint="correct the time, or the clock of the device",
        )

    # --- codes

    def resolve(self, text: str) -> Item:
        """Find the item that a code, serial, label or supplier's number leads to now.

        Raises:
            UnknownCode: Nothing goes by this text.
            NotAnItem: It is a case, a word of the plan, a traveller or an order.
            AmbiguousCode: Several items carry this supplier's number.
        """
        try:
            return self.led_to(text)
        except UnknownCode as unknown:
            raise known_otherwise(self.view, self.plan, text) or unknown from None

    def led_to(self, text: str) -> Item:
        """Find the same item, without asking what else a text is that leads to none.

        Raises:
            UnknownCode: No item goes by this text.
            AmbiguousCode: Several items carry this supplier's number.
        """
        exact = self.view.item(text)
        if exact is not None and self.mode is Mode.AMENDED:
            return exact
        current = self.view.label(text)
        if current is not None:
            item = self.view.item(current)
            if item is not None:
                return item
        if exact is not None:
            return exact
        first = self.view.item(text.removesuffix("/1")) if text.endswith("/1") else None
        if first is not None and first.serial == first.code:
            return first
        carrying = self.view.carrying(text)
        if len(carrying) == 1:
            return carrying[0]
        if carrying:
            raise AmbiguousCode(text, [item.code for item in carrying])
        raise UnknownCode(text, near=self.view.near(text))

    def lot_of(self, text: str) -> Item:
        """Find the lot to take pieces from: for a heat or source lot, its delivery that is left.

        Raises:
            UnknownCode: Nothing goes by this text.
            AmbiguousCode: Several items do, or several deliveries are left.
        """
        return self.delivery_left(self.resolve(text), text)

    def delivery_left(self, item: Item, text: str) -> Item:
        """Give the delivery that is left of a heat or source lot; any other item as it is.

        Args:
            item: What a text leads to.
            text: As it was given, for the error.

        Raises:
            AmbiguousCode: Several deliveries are left.
        """
        if item.kind not in ("heat", "source-lot"):
            return item
        deliveries = sorted({link.child for link in self.view.children(item.code)})
        left = [
            code
            for code in deliveries
            if any(q > 0 and not spot.is_end for spot, q in self.view.stock(code).items())
        ]
        if len(left) > 1:
            raise AmbiguousCode(text, left)
        found = left or deliveries
        return self.exact(found[0]) if len(found) == 1 else item

    def exact(self, code: str) -> Item:
        """Give the item of exactly this code, whatever a label of the same text leads to.

        Raises:
            UnknownCode: There is none.
        """
        item = self.view.item(code)
        if item is None:
            raise UnknownCode(code)
        return item

    def free_code(self, code: str) -> None:
        """Check that a new item can have this code.

        Raises:
            CodeTaken: It is recorded already.
        """
        if self.mode is not Mode.AMENDED and (
            self.view.item(code) is not None or self.view.label(code) is not None
        ):
            raise CodeTaken(code)

    def next_state(self, item: Item) -> str:
        """Give the code of the next state of a serial, or of the rest of a lot, like `CODE/2`."""
        base = item.serial or item.code
        number = 2
        while self.view.item(f"{base}/{number}") is not None or f"{base}/{number}" in self._named:
            number += 1
        self._named.add(f"{base}/{number}")
        return f"{base}/{number}"

    # --- places and stock

    def check_place(self, place: str) -> None:
        """Check that the plan knows a place; without a plan any place will do.

        Raises:
            UnknownCode: The plan has no such place, or the name is kept for an end.
        """
        if place in END_NAMES:
            raise NamesAnother(place, "kept for what has left the stock", "place")
        if self.plan is not None and self.plan.place(place) is None:
            raise not_in_plan(place, "place", self.plan.places(), self.plan, self.view)

    def place_kind(self, place: str) -> str:
        """Tell what a place is; "" if it is not known. Whoever was shipped to is a customer."""
        return kind_of_place(place, self.plan, self.view.places_shipped_to)

    def spot_of(self, item: Item, place: str, within: str = "") -> Spot:
        """Tell from which spot pieces of an item are taken.

        Raises:
            AmbiguousSpot: No place was named and the pieces lie at several.
        """
        if place:
            return Spot(place, within)
        spots = [s for s, q in self.view.stock(item.code).items() if not s.is_end and q > 0]
        # what lies open comes before what is in a carton or out with a batch
        spots = [spot for spot in spots if not spot.within] or spots
        if len(spots) > 1 and self.mode is Mode.ASKED:
            raise AmbiguousSpot(item.code, [str(spot) for spot in sorted(spots)])
        if len(spots) > 1:
            there = self.view.stock(item.code)
            spots.sort(key=lambda spot: (-there[spot], spot))
            self.breach(
                "place-not-said",
                item.code,
                f"{item.code} lies at {len(spots)} places; taken from {spots[0]}, where most is",
            )
        if spots:
            return spots[0]
        last = [s for s in self.view.stock(item.code) if not s.is_end]
        return last[0] if last else Spot(UNKNOWN)

    def on_hand(self, item: Item, spot: Spot) -> int:
        """Give the millionths at a spot, less what this event has spoken for already."""
        return self.view.stock(item.code).get(spot, 0) - self._spoken.get((item.code, spot), 0)

    def take(self, item: Item, quantity: int | None, spot: Spot, *, doing: str) -> int:
        """Speak for pieces at a spot; None means all that lie there.

        Returns:
            The millionths taken, above zero.

        Raises:
            BadQuantity: Zero, negative, or part of a piece.
            RuleBroken: Held, or not enough there (asked events only).
        """
        self.check_free(item, doing)
        there = self.on_hand(item, spot)
        amount = there if quantity is None else quantity
        if quantity is None and there <= 0:
            self.breach(
                "not-enough",
                item.code,
                f"{item.code} cannot be {doing}: none is left at {spot}",
                hint="count the shelf and record the count, or take another lot",
            )
            raise BadQuantity("all", f"is nothing at {spot}", record=item.code)
        self.check_amount(item.code, item.unit, amount)
        if amount > there:
            self.breach(
                "not-enough",
                item.code,
                f"{item.code} cannot be {doing}: {show_quantity(amount, item.unit)} wanted, "
                f"{show_quantity(max(there, 0), item.unit)} at {spot}",
                hint="count the shelf and record the count, or take another lot",
            )
        self._spoken[item.code, spot] = self._spoken.get((item.code, spot), 0) + amount
        return amount

    def check_amount(self, record: str, unit: str, amount: int) -> None:
        """Check that a quantity is above zero and, in pieces, whole.

        Raises:
            BadQuantity: It is not.
        """
        if amount <= 0:
            raise BadQuantity(show_quantity(amount), "must be above zero", record=record)
        if unit == "pcs" and not is_whole(amount):
            raise BadQuantity(show_quantity(amount), "must be whole pieces", record=record)

    def check_case(self, item: Item, doing: str) -> None:
        """Check that no open case holds an item, or a decision in it allows what is done.

        Raises:
            RuleBroken: One does (asked events only).
        """
        for case in open_cases(self.view):
            decision = decisions_in(self.view, case.code).get(item.code)
            if decision is not None and allows(decision.decision, self.kind):
                continue
            if is_member(self.view, case, item.code):
                self.breach(
                    "case-held",
                    item.code,
                    f"{item.code} is held by case {case.code} ({case.reason}) "
                    f"and cannot be {doing}",
                    hint="set it aside; quality decides on it in the case",
                )

    def check_free(self, item: Item, doing: str) -> None:
        """Check that an item is neither held nor past its date.

        Raises:
            RuleBroken: It is (asked events only).
        """
        reason = self.view.hold(item.code)
        if reason is not None:
            self.breach(
                "held",
                item.code,
                f"{item.code} is held ({reason}) and cannot be {doing}",
                hint="set it aside; only an accepted inspection frees it",
            )
        self.check_case(item, doing)
        if item.due_at is not None and item.due_at < self.at:
            self.breach(
                "past-due",
                item.code,
                f"{item.code} is past its date and cannot be {doing}",
                hint="take one that is within its date (expiry or calibration)",
            )
