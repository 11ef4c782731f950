"""What a dialogue works with: the records, the plan, the station, the person and the time."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.errors import LotkinError, RuleBroken
from lotkin.core.rules.checking import Shop
from lotkin.core.rules.leading import Mode
from lotkin.core.values.places import Spot

if TYPE_CHECKING:
    from lotkin.core.genealogy.items import Item
    from lotkin.core.genealogy.view import View
    from lotkin.core.plan import PartPlan, ShopPlan, StepPlan

__all__ = ["Desk"]


@dataclass(frozen=True, slots=True)
class Desk:
    """One moment at a station.

    Attributes:
        view: What is recorded.
        plan: The plan in force.
        station: Code of the place where scans are made.
        now: Microseconds UTC.
        late: The scan was made earlier, while the station could not reach the store: what it tells
            has happened, so no rule turns it away; the record will say which one was broken.
        by_hand: Somebody scans and taps now; a file or a program cannot be too quick.
        remark: What the record is to say of how this scan came; "" for nothing.
    """

    view: View
    plan: ShopPlan
    station: str
    now: int
    late: bool = False
    by_hand: bool = True
    remark: str = ""

    def shop(self) -> Shop:
        """Give the rules as an event asked for now would meet them."""
        return Shop(self.view, Mode.ASKED, at=self.now, plan=self.plan)

    def why_not(self, item: Item, doing: str) -> str:
        """Say why an item cannot be used now; "" if it can, or was."""
        if self.late:
            return ""
        try:
            self.shop().check_free(item, doing)
        except RuleBroken as broken:
            return broken.message
        return ""

    def on_hand(self, item: Item, place: str = "") -> int:
        """Give the millionths of an item at a place, or at all places of the works."""
        return sum(
            quantity
            for spot, quantity in self.view.stock(item.code).items()
            if not spot.is_end and (not place or spot.place == place)
        )

    def has_left(self, item: Item) -> bool:
        """Tell whether any of an item is left to work with; a late scan proves that some was."""
        return self.late or self.on_hand(item) > 0

    def place_of(self, item: Item) -> str:
        """Tell where an item lies: here if some of it does, else where it is; "" if unclear."""
        if self.view.stock(item.code).get(Spot(self.station), 0) > 0:
            return self.station
        try:
            place = self.shop().spot_of(item, "").place
        except LotkinError:
            return ""
        return place if self.plan.place(place) is not None else ""

    def traveller_part(self, traveller: str) -> PartPlan | None:
        """Give the part that a traveller orders."""
        facts = self.view.facts("traveller", traveller)
        return self.plan.part(str(facts[-1].value["part"])) if facts else None

    def name_of(self, person: str) -> str:
        """Give the name of a person; the code of one whom the plan does not know."""
        known = self.plan.person(person)
        return known.name if known is not None else person

    def ordered(self, traveller: str) -> int:
        """Give the millionths that a traveller orders; 0 for one that is not issued."""
        facts = self.view.facts("traveller", traveller)
        return int(str(facts[-1].value["micro"])) if facts else 0

    def step(self, traveller: str, step: str) -> StepPlan | None:
        """Give the step of the route of a traveller's part."""
        part = self.traveller_part(traveller)
        return self.plan.step(part.code, step) if part is not None else None
