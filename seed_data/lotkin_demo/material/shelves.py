"""What lies where in the demo works, so that nobody takes what is not there."""

from __future__ import annotations

from decimal import Decimal

__all__ = ["Shelves"]


class Shelves:
    """Lots of each part at each place, in the order in which they came there.

    Held lots and lots kept for a purpose are set aside: nobody is offered them.
    """

    def __init__(self) -> None:
        self._part_of: dict[str, str] = {}
        self._there: dict[tuple[str, str], dict[str, Decimal]] = {}
        self._aside: set[str] = set()

    def put(self, code: str, part: str, place: str, quantity: Decimal | int) -> None:
        """Add a quantity of a lot at a place."""
        self._part_of[code] = part
        there = self._there.setdefault((part, place), {})
        there[code] = there.get(code, Decimal(0)) + quantity

    def take(self, code: str, place: str, quantity: Decimal | int) -> None:
        """Take a quantity of a lot from a place.

        Raises:
            ValueError: There is not as much.
        """
        left = self.on_hand(code, place) - quantity
        if left < 0:
            message = f"{code}: {-left} more wanted than lie at {place}"
            raise ValueError(message)
        there = self._there[self._part_of[code], place]
        if left:
            there[code] = left
        else:
            del there[code]

    def bring(self, code: str, quantity: Decimal | int, *, origin: str, to: str) -> None:
        """Carry a quantity of a lot from one place to another."""
        self.take(code, origin, quantity)
        self.put(code, self._part_of[code], to, quantity)

    def on_hand(self, code: str, place: str) -> Decimal:
        """Give the quantity of a lot at a place."""
        part = self._part_of.get(code, "")
        return self._there.get((part, place), {}).get(code, Decimal(0))

    def lots(self, part: str, place: str) -> list[str]:
        """List the lots of a part that anybody may take from a place, oldest first."""
        return [code for code in self._there.get((part, place), ()) if code not in self._aside]

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
