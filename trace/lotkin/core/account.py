"""The account: where the quantity of what was asked about is now, with nothing left over."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.kinds import KINDS, Family, Mixing
from lotkin.core.places import End, Spot
from lotkin.core.quantities import MICRO, is_whole

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from lotkin.core.reach import Reach

__all__ = ["NOT_RECORDED", "Account", "AccountLine", "account_of", "roots_of"]

NOT_RECORDED = "not recorded"
"""Where pieces are whose use was recorded without a quantity."""

PACKS = frozenset(KINDS[Family.PACK])
TOLERANCE = 1e-6

ROUNDING = 1e-12
"""What floating point may lose of a quantity on the way."""


@dataclass(frozen=True, slots=True)
class AccountLine:
    """One place or end.

    Attributes:
        where: Place or end.
        quantity: How much of what was asked about is there, in the unit of the account.
        exact: Whether that is known, or expected from shares.
    """

    where: str
    quantity: float
    exact: bool


@dataclass(frozen=True, slots=True)
class Account:
    """Where a quantity went.

    Attributes:
        unit: Unit of all quantities.
        quantity: How much there was to account for.
        lines: Places first, then ends; they sum to `quantity`.
    """

    unit: str
    quantity: float
    lines: tuple[AccountLine, ...]

    @property
    def found(self) -> float:
        """How much the lines account for; what is not recorded was not found."""
        return _tidy(sum(line.quantity for line in self.lines if line.where != NOT_RECORDED))

    @property
    def is_closed(self) -> bool:
        """Tell whether nothing is left over and all of it is recorded."""
        return abs(self.found - self.quantity) <= max(TOLERANCE, 1e-9 * abs(self.quantity))


def roots_of(reach: Reach) -> list[int]:
    """List the material items that an account begins with, for the starts of a reach.

    A material item begins with itself; a heat or source lot, which has no quantity, with its
    deliveries; a run or a resource with the material that came out of it.
    """
    asked = set(reach.starts)
    frontier, roots = list(asked), []
    seen = set(asked)
    below: dict[int, list[int]] = {}
    for parent, child in zip(reach.links.parent, reach.links.child, strict=True):
        below.setdefault(parent, []).append(child)
    while frontier:
        i = frontier.pop()
        if reach.is_material(i) and reach.nodes.quantity[i] is not None:
            roots.append(i)
            continue
        if reach.nodes.kind[i] in PACKS:
            continue
        for child in below.get(i, []):
            if child not in seen:
                seen.add(child)
                frontier.append(child)
    return sorted(roots)


def account_of(
    reach: Reach,
    stock: Mapping[int, Mapping[Spot, int]],
    certain: Sequence[bool],
    *,
    extra: Sequence[tuple[str, Spot, str, int]] = (),
) -> list[Account]:
    """Make the accounts of what a reach began with, one for each unit.

    The quantity flows down by what each child took; where an item derives from two starts it
    counts once. Pieces that an outside batch had and that did not become a treated lot come as
    `extra`.

    Args:
        reach: n items and their links.
        stock: Position -> spot -> millionths, ends included.
        certain: Whether every piece of the item at a position contains a start.
        extra: (item, spot, unit, millionths) to add; what flows through the item already is not.

    Returns:
        Accounts in order of unit; each one's lines sum to its quantity.
    """
    roots = roots_of(reach)
    units = {reach.nodes.unit[i] for i in roots} | {unit for _, _, unit, _ in extra}
    return [
        _account(_Books(reach, stock, certain), unit, roots, [e for e in extra if e[2] == unit])
        for unit in sorted(units)
    ]


class _Books(NamedTuple):
    """What an account is made from; see `account_of`."""

    reach: Reach
    stock: Mapping[int, Mapping[Spot, int]]
    certain: Sequence[bool]


class _Sheet:
    """The lines of an account while it is made."""

    def __init__(self) -> None:
        self.lines: dict[str, tuple[float, bool]] = {}

    def add(self, where: str, quantity: float, *, exact: bool) -> None:
        """Add to a line."""
        before, was_exact = self.lines.get(str(where), (0.0, True))
        self.lines[str(where)] = (before + quantity, was_exact and exact)

    def rows(self, total: float) -> tuple[AccountLine, ...]:
        """Give the lines in whole millionths, places before ends.

        What rounding leaves over goes to the longest line, so that the lines sum to the total; a
        gap that rounding cannot have made stays.
        """
        micro = {where: round(quantity) for where, (quantity, _) in self.lines.items()}
        over = round(total) - sum(micro.values())
        if micro and abs(over) <= len(micro) + ROUNDING * abs(total):
            micro[max(micro, key=lambda where: abs(micro[where]))] += over
        rows = [
            AccountLine(where, _tidy(quantity / MICRO), self.lines[where][1])
            for where, quantity in micro.items()
            if quantity
        ]
        return tuple(sorted(rows, key=lambda line: (line.where in _ENDS, line.where)))


def _account(
    books: _Books, unit: str, roots: Sequence[int], extra: Sequence[tuple[str, Spot, str, int]]
) -> Account:
    reach = books.reach
    flow = _Flow(reach)
    total = flow.run([i for i in roots if reach.nodes.unit[i] == unit])
    sheet = _Sheet()
    for i, amount in enumerate(flow.amount):
        whole = reach.nodes.quantity[i]
        if not amount:
            continue
        if not whole:
            sheet.add(NOT_RECORDED, amount, exact=False)
            continue
        left = whole - flow.taken[i] - flow.spent[i]
        sheet.add(End.USED_IN, amount * flow.spent[i] / whole, exact=books.certain[i])
        for spot, quantity in books.stock.get(i, {}).items():
            if spot.place == End.USED_IN:
                continue
            where = NOT_RECORDED if flow.vague[i] and not spot.is_end else spot.place
            # part of a piece at an end: several lots were divided over it by share
            whole_pieces = reach.nodes.unit[i] != "pcs" or is_whole(quantity)
            exact = books.certain[i] and whole_pieces and where != NOT_RECORDED
            sheet.add(where, amount * quantity / whole, exact=exact)
            left -= quantity
        if abs(left) > 0.5:
            sheet.add(NOT_RECORDED, amount * left / whole, exact=False)
    position = {code: i for i, code in enumerate(reach.nodes.code)} if extra else {}
    for code, spot, _, quantity in extra:
        rest = quantity * (1.0 - flow.fraction(position.get(code)))
        total += rest
        sheet.add(spot.place, rest, exact=True)
    return Account(unit, _tidy(total / MICRO), sheet.rows(total))


_ENDS = frozenset({*(str(end) for end in End), NOT_RECORDED})


class _Flow:
    """The quantity of the roots, followed down the links.

    Attributes:
        amount: How much of the roots is in the item at a position, in millionths of their unit.
        taken: Millionths of the item that went into material children.
        spent: Millionths of the item that went into a resource, a dye into a bath, say.
        vague: Whether something was taken from it without a quantity.
    """

    def __init__(self, reach: Reach) -> None:
        n = len(reach)
        self.reach = reach
        self.amount = [0.0] * n
        self.taken = [0.0] * n
        self.spent = [0.0] * n
        self.vague = [False] * n
        self.superseded = [False] * n
        self._below: list[list[int]] = [[] for _ in range(n)]
        links = reach.links
        keys = list(zip(links.child, links.event, links.group, strict=True))
        self._said = {key for key, q in zip(keys, links.quantity, strict=True) if q is not None}
        self._key = keys
        for k, parent in enumerate(links.parent):
            if parent >= 0:
                self._below[parent].append(k)
                if links.mixing[k] is Mixing.FORMER:
                    self.superseded[parent] = True

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
            if self.reach.is_material(i):
                self._pass_on(i, whole, per_unit)
        return total

    def fraction(self, i: int | None) -> float:
        """Give the fraction of an item that comes from the roots; 0 for none."""
        whole = self.reach.nodes.quantity[i] if i is not None else None
        return self.amount[i] / whole if i is not None and whole else 0.0

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
                self.taken[i] += whole or 0
            elif reach.nodes.kind[i] == "bench-setup":
                if quantity is not None and not self.superseded[child]:
                    self.amount[child] += per_unit[i] * quantity / MICRO
            elif reach.nodes.kind[child] == "bench-setup":
                per_unit[child] += fraction * links.per[k]
                self.taken[i] += links.per[k] * self._units_of(child)
            elif self.superseded[child]:
                continue
            elif quantity is None:
                # alternatives: the pieces were posted from another lot of the group
                self.vague[i] = self.vague[i] or self._key[k] not in self._said
            else:
                self.amount[child] += fraction * quantity
                self.taken[i] += quantity

    def _units_of(self, setup: int) -> float:
        """Give how many units took their pieces through a setup."""
        links = self.reach.links
        count = 0.0
        for k in self._below[setup]:
            quantity = links.quantity[k]
            if quantity is not None and not self.superseded[links.child[k]]:
                count += quantity / MICRO
        return count


def _tidy(value: float) -> float:
    """Round away what floating point left over."""
    return round(value, 6) + 0.0
