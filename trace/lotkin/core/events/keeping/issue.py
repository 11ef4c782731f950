"""`issue`: a traveller is issued for a quantity of a part along its route."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, Self

from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Amount, Code, Event
from lotkin.core.values.quantities import to_micro

if TYPE_CHECKING:
    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["Issue"]


class Issue(Event):
    """The order for a quantity of a part; lots made on it are named after the traveller."""

    kind: Literal["issue"] = "issue"
    traveller: Code
    part: Code
    quantity: Amount

    def complete(self, shop: Shop) -> Self:
        """Check that the part has a route and the code is free."""
        if shop.view.facts("traveller", self.traveller):
            raise BadEvent(self.traveller, "has been issued already")
        shop.free_code(self.traveller)
        part = shop.plan.part(self.part) if shop.plan is not None else None
        if part is None or not part.steps:
            shop.breach(
                "no-route",
                self.traveller,
                f"{self.traveller}: {self.part} has no route in the plan",
                hint="add its steps to the plan",
            )
        unit = part.unit if part is not None else "pcs"
        shop.check_amount(self.traveller, unit, to_micro(self.quantity, record=self.traveller))
        return self

    def establish(self, draft: Draft) -> None:
        """Note what the traveller orders."""
        quantity = str(to_micro(self.quantity))
        draft.fact("traveller", self.traveller, part=self.part, micro=quantity)
