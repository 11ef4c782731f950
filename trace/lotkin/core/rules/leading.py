"""What a code, a label or a number leads to, as one event means it."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from lotkin.core.errors import AmbiguousCode, CodeTaken, UnknownCode
from lotkin.core.rules.known_otherwise import known_otherwise

if TYPE_CHECKING:
    from lotkin.core.genealogy.items import Item
    from lotkin.core.genealogy.view import View
    from lotkin.core.plan import ShopPlan

__all__ = ["Leading", "Mode"]


class Mode(StrEnum):
    """How strictly an event is taken."""

    ASKED = "asked"
    REPORTED = "reported"
    AMENDED = "amended"


class Leading:
    """The items that the texts of one event lead to.

    Attributes:
        view: What is recorded.
        mode: How strictly the event is taken.
        plan: The plan in force; None without one.
    """

    def __init__(self, view: View, mode: Mode, plan: ShopPlan | None) -> None:
        self.view, self.mode, self.plan = view, mode, plan
        self._named: set[str] = set()

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
