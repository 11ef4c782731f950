"""Checking and completing an event before it is recorded: what is meant, which rules it breaks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.access.rights import Right
from lotkin.core.cases.membership import allows, decisions_in, is_member, open_cases
from lotkin.core.errors import (
    AmbiguousSpot,
    BadQuantity,
    NamesAnother,
    RuleBroken,
    did_you_mean,
)
from lotkin.core.genealogy.view import Breach
from lotkin.core.rules.known_otherwise import not_in_plan
from lotkin.core.rules.leading import Leading, Mode
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

__all__ = ["Shop"]


AHEAD_US = 5 * 60_000_000
"""How far the clock of a device may be ahead; common practice, no source."""


STOCK_RULES = frozenset(
    {"not-enough", "not-shipped", "place-not-said", "held", "case-held", "past-due"}
)


class Shop(Leading):
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
        super().__init__(view, mode, plan)
        self.at = at
        self.kind = kind
        self.now = now
        self.rights = rights
        self.breaches: list[Breach] = []
        self.reasons_to_hold: list[str] = []
        self._spoken: dict[tuple[str, Spot], int] = {}

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
