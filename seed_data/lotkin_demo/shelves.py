"""What lies where in the demo works, so that nobody takes what is not there."""

from __future__ import annotations

from decimal import Decimal

__all__ = ["Shelves"]


class Shelves:
    """Lots by part in the order in which they came, with the quantity at each place.

    Held lots and lots kept for a purpose are set aside: nobody is offered them.
    """

    def __init__(self) -> None:
        self._lots: dict[str, list[str]] = {}
        self._part_of: dict[str, str] = {}
        self._there: dict[tuple[str, str], Decimal] = {}
        self._aside: set[str] = set()

    def put(self, code: str, part: str, place: str, quantity: Decimal | int) -> None:
        """Add a quantity of a lot at a place."""
        if code not in self._part_of:
            self._part_of[code] = part
            self._lots.setdefault(part, []).append(code)
        self._there[code, place] = self.on_hand(code, place) + quantity

    def take(self, code: str, place: str, quantity: Decimal | int) -> None:
        """Take a quantity of a lot from a place; there must be as much."""
        left = self.on_hand(code, place) - quantity
        if left < 0:
            message = f"{code}: {-left} more wanted than lie at {place}"
            raise ValueError(message)
        self._there[code, place] = left

    def bring(self, code: str, quantity: Decimal | int, *, origin: str, to: str) -> None:
        """Carry a quantity of a lot from one place to another."""
        self.take(code, origin, quantity)
        self.put(code, self._part_of[code], to, quantity)

    def on_hand(self, code: str, place: str) -> Decimal:
        """Give the quantity of a lot at a place."""
        return self._there.get((code, place), Decimal(0))

    def lots(self, part: str, place: str) -> list[str]:
        """List the lots of a part that anybody may take from a place, oldest first."""
        return [
            code
            for code in self._lots.get(part, ())
            if code not in self._aside and self.on_hand(code, place) > 0
        ]

    def total(self, part: str, place: str) -> Decimal:
        """Give the quantity of a part that anybody may take from a place."""
        there = (self.on_hand(code, place) for code in self.lots(part, place))
        return sum(there, Decimal(0))

    def set_aside(self, code: str) -> None:
        """Keep a lot from being offered."""
        self._aside.add(code)

    def release(self, code: str) -> None:
        """Offer a lot again."""
        self._aside.discard(code)
