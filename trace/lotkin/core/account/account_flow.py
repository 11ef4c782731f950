"""The quantity of what was asked about, followed down the links, and how well it is known."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from lotkin.core.exposure.guesses import guesses_of
from lotkin.core.values.kinds import KINDS, Family, Mixing
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.exposure.reach import Reach

__all__ = ["PACKS", "AccountFlow"]

PACKS = frozenset(KINDS[Family.PACK])

Key = tuple[int, int, int]
"""A group of links: position of the child, event, number of the group."""


class AccountFlow:
    """The quantity of the roots, followed down the links.

    Attributes:
        amount: How much of the roots is in the item at a position, in millionths of their unit.
        taken: Millionths of the item that went into material children.
        spent: Millionths of the item that went into a resource, a dye into a bath, say.
        vague: Whether something was taken from it without a quantity.
        is_booked: Whether `amount` is what bookings say, and not shared out on the way.
        is_even: Whether each piece of the item holds as much of the roots as the next.
        guesses: Position of a lot -> millionths booked from it that may be of another; see
            `lotkin.core.exposure.guesses`.
        is_mixed_away: Whether it went into something together with other lots.
    """

    def __init__(self, reach: Reach, certain: Sequence[bool]) -> None:
        n = len(reach)
        self.reach = reach
        self.certain = certain
        self.amount = [0.0] * n
        self.taken = [0.0] * n
        self.spent = [0.0] * n
        self.vague = [False] * n
        self.superseded = [False] * n
        self.is_booked = [True] * n
        self.is_even = [True] * n
        self.guesses = guesses_of(reach)
        self.is_mixed_away = [False] * n
        self._below: list[list[int]] = [[] for _ in range(n)]
        links = reach.links
        keys: list[Key] = list(zip(links.child, links.event, links.group, strict=True))
        self._said = {key for key, q in zip(keys, links.quantity, strict=True) if q is not None}
        self._key = keys
        for k, parent in enumerate(links.parent):
            if parent >= 0:
                self._below[parent].append(k)
                if links.mixing[k] is Mixing.FORMER:
                    self.superseded[parent] = True
        self._note_mixtures()

    def run(self, roots: Sequence[int]) -> float:
        """Follow the roots down; return how much there was in all."""
        total = 0.0
        is_root = set(roots)
        per_unit = [0.0] * len(self.amount)
        for i in self.reach.order():
            whole = self.reach.nodes.quantity[i]
            if i in is_root and whole is not None:
                total += whole - self.amount[i]
                self.amount[i] = float(whole)
                self.is_booked[i] = self.is_even[i] = True
            if self.reach.is_material(i):
                self._pass_on(i, whole, per_unit)
        return total

    def fraction(self, i: int | None) -> float:
        """Give the fraction of an item that comes from the roots; 0 for none."""
        whole = self.reach.nodes.quantity[i] if i is not None else None
        return self.amount[i] / whole if i is not None and whole else 0.0

    def is_known(self, i: int, quantity: int) -> bool:
        """Tell whether bookings say how much of the roots is in so much of an item.

        They do if that is all of it, or if its pieces hold whole pieces of the roots, all alike.
        """
        if not (self.certain[i] and self.is_booked[i]):
            return False
        fraction = self.fraction(i)
        if fraction == 1.0 or quantity == self.reach.nodes.quantity[i]:
            return True
        return self.is_even[i] and self.reach.nodes.unit[i] == "pcs" and fraction.is_integer()

    # --- what is mixed

    def _note_mixtures(self) -> None:
        """Note which lots went into something together with others."""
        links, kinds = self.reach.links, self.reach.nodes.kind
        mixed = [mixing in (Mixing.ONE_OF, Mixing.EITHER, Mixing.BLEND) for mixing in links.mixing]
        members = Counter(key for key, is_mixed in zip(self._key, mixed, strict=True) if is_mixed)
        for k, parent in enumerate(links.parent):
            is_setup = kinds[links.child[k]] == "bench-setup"
            if parent >= 0 and mixed[k] and not is_setup and members[self._key[k]] > 1:
                self.is_mixed_away[parent] = True

    # --- following the flow

    def _pass_on(self, i: int, whole: int | None, per_unit: list[float]) -> None:
        reach, links = self.reach, self.reach.links
        fraction = self.fraction(i)
        for k in self._below[i]:
            child = links.child[k]
            quantity = links.quantity[k]
            if not reach.is_material(child):
                if quantity is not None and reach.nodes.kind[child] not in PACKS:
                    self.spent[i] += quantity
                continue
            if links.mixing[k] is Mixing.FORMER:
                self.amount[child] += self.amount[i]
                self.is_booked[child] = self.is_booked[child] and self.is_booked[i]
                self.taken[i] += whole or 0
            elif reach.nodes.kind[i] == "bench-setup":
                if quantity is not None and not self.superseded[child]:
                    self.amount[child] += per_unit[i] * quantity / MICRO
                    self._know(child, is_known=self.is_booked[i])
            elif reach.nodes.kind[child] == "bench-setup":
                per_unit[child] += fraction * links.per[k]
                self.taken[i] += links.per[k] * self._units_of(child)
                self._know(child, is_known=not self.amount[i] or self.is_known(i, links.per[k]))
            elif self.superseded[child]:
                continue
            elif quantity is None:
                # alternatives: the pieces were posted from another lot of the group
                self.vague[i] = self.vague[i] or self._key[k] not in self._said
            else:
                self._give(i, k, quantity)

    def _give(self, i: int, k: int, quantity: int) -> None:
        """Note what a link took from an item."""
        child = self.reach.links.child[k]
        fraction = self.fraction(i)
        self.amount[child] += fraction * quantity
        self.taken[i] += quantity
        if self.amount[i]:
            self._know(child, is_known=self.is_known(i, quantity))
            is_alone = self.reach.links.mixing[k] is Mixing.EACH
            self.is_even[child] &= self.is_even[i] and (is_alone or fraction == 1.0)

    def _know(self, child: int, *, is_known: bool) -> None:
        """Note whether what a child was given just now is known from bookings."""
        self.is_booked[child] = self.is_booked[child] and is_known

    def _units_of(self, setup: int) -> float:
        """Give how many units took their pieces through a setup."""
        links = self.reach.links
        count = 0.0
        for k in self._below[setup]:
            quantity = links.quantity[k]
            if quantity is not None and not self.superseded[links.child[k]]:
                count += quantity / MICRO
        return count
