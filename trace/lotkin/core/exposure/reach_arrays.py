"""A reach as arrays, where whoever gathered it has them: what holds for most items, at once.

Only what can be said without following the graph is said here; the rest goes item by item over the
few that are no heirs.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from lotkin.core.values.kinds import FAMILY_OF, ONE_THING, Family
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Numbers = NDArray[np.int64]
    Flags = NDArray[np.bool_]

__all__ = ["ReachArrays"]

Record = TypeVar("Record")

UNSEEN, SEVERAL = -2, -1


@dataclass
class ReachArrays:
    """Columns of n items and m links, as arrays.

    Attributes:
        parent, child: Positions, -1 for a parent outside; length m.
        is_each: Whether a link takes of one parent; length m.
        per, quantity: Millionths, a quantity not known below 0; length m.
        kind: Number of each item's kind among `kinds`; length n.
        in_pieces: Whether an item is counted in pieces; length n.
        amount: Millionths of each item, below 0 if not known; length n.
        number: Number of each item in the store; what was made later has mostly a higher one.
        kinds: Names of kinds.
    """

    parent: Numbers
    child: Numbers
    is_each: Flags
    per: Numbers
    quantity: Numbers
    kind: Numbers
    in_pieces: Flags
    amount: Numbers
    number: Numbers
    kinds: tuple[str, ...]

    def _where(self, names: set[str]) -> Flags:
        """Tell which items are of some kinds."""
        flags: Flags = np.array([name in names for name in self.kinds], bool)[self.kind]
        return flags

    @cached_property
    def heirs(self) -> Numbers:
        """Give for each item the only parent whose exposure it takes over, as `Reach.heirs` does.

        Below 0 for all others: -1 for several links or one by which not all passes, -2 for none.
        """
        known = set(self.kinds) - {""}
        material = self._where({k for k in known if FAMILY_OF[k] is Family.MATERIAL})
        whole = (
            self._where({k for k in known if k in ONE_THING})
            | ~material
            | (self.in_pieces & (self.amount == MICRO))
        )
        one_thing = ~self.in_pieces | whole
        is_setup = self._where({"bench-setup"})
        counted = material & (self.in_pieces | is_setup)

        into = np.bincount(self.child, minlength=len(self.kind))
        heirs = np.where(into == 0, UNSEEN, SEVERAL)
        only = np.flatnonzero((into[self.child] == 1) & (self.parent >= 0))
        parent, child = self.parent[only], self.child[only]
        quantity = self.quantity[only]
        one_piece = (
            one_thing[parent]
            | ~whole[child]
            | is_setup[child]
            | np.where(quantity < 0, counted[child], quantity <= MICRO)
        )
        passes = (
            self.is_each[only]
            & (self.per[only] <= MICRO)
            & (material[parent] == material[child])
            & one_piece
        )
        heirs[child[passes]] = parent[passes]
        return heirs

    @cached_property
    def is_end(self) -> Flags:
        """Tell which heirs nothing is made from."""
        has_children = np.zeros(len(self.kind), bool)
        has_children[self.parent[self.parent >= 0]] = True
        ends: Flags = (self.heirs >= 0) & ~has_children
        return ends

    def inner_by_number(self) -> Numbers | None:
        """List the positions of all but the ends in order of their numbers.

        None if that is not an order of the graph: a link leads to what was numbered before.
        """
        leads_inside = (self.parent >= 0) & ~self.is_end[self.child]
        parent, child = self.parent[leads_inside], self.child[leads_inside]
        if not (self.number[parent] < self.number[child]).all():
            return None
        inner = np.flatnonzero(~self.is_end)
        in_order: Numbers = inner[np.argsort(self.number[inner])]
        return in_order

    def shared_by_heirs(self, records: Sequence[Record]) -> list[Record]:
        """Give each end the record of the parent whose exposure it takes over.

        Args:
            records: One for each item; those of the ends are not looked at.
        """
        found = np.fromiter(records, object, len(records))
        ends = np.flatnonzero(self.is_end)
        found[ends] = found[self.heirs[ends]]
        listed: list[Record] = found.tolist()
        return listed

    def links_to(self, wanted: Flags) -> Numbers:
        """List the positions of the links into some items."""
        places: Numbers = np.flatnonzero(wanted[self.child])
        return places
