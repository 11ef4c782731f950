"""What an account says, and its lines while it is made."""

from __future__ import annotations

from dataclasses import dataclass

from lotkin.core.account.balance import Balance
from lotkin.core.values.places import NOWHERE, End
from lotkin.core.values.quantities import MICRO

__all__ = ["NOT_RECORDED", "Account", "AccountLine", "Sheet", "tidy"]


NOT_RECORDED = "not recorded"
"""Where pieces are whose use was recorded without a quantity."""

ROUNDING = 1e-12
"""What floating point may lose of a quantity on the way."""

_ENDS = frozenset({*(str(end) for end in End), NOT_RECORDED})


@dataclass(frozen=True, slots=True)
class AccountLine:
    """One place or end; what was used beyond what there was stands on a line of its own.

    Attributes:
        where: Place or end.
        quantity: How much of what was asked about is there, in the unit of the account; below
            zero for what was used, counted or brought back beyond what there was.
        exact: Whether it is booked there and no mixture or guess lies between.
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
        part: Part that it is of, where what was asked about is of several; else "".
        doubtful: How much was booked to it although it may be of another lot.
        surplus: How much of what is below zero was counted, and not used.
    """

    unit: str
    quantity: float
    lines: tuple[AccountLine, ...]
    part: str = ""
    doubtful: float = 0.0
    surplus: float = 0.0

    @property
    def balance(self) -> Balance:
        """Tell how far the lines account for the quantity."""
        missing = untold = nowhere = over = found = 0.0
        for line in self.lines:
            if line.quantity < 0:
                over -= line.quantity
            elif line.where == End.LOST:
                missing += line.quantity
            elif line.where == NOT_RECORDED:
                untold += line.quantity
            elif line.where in NOWHERE:
                nowhere += line.quantity
            else:
                found += line.quantity
        return Balance(
            self.unit,
            self.quantity,
            found=found,
            missing=missing,
            untold=untold,
            nowhere=nowhere,
            over=over,
            doubtful=self.doubtful,
            surplus=self.surplus,
        ).settled()

    @property
    def found(self) -> float:
        """How much is at known places and ends; what was lost was not found."""
        return self.balance.found

    @property
    def is_complete(self) -> bool:
        """Tell whether all of it is at known places and recorded ends."""
        return self.balance.is_complete


class Sheet:
    """The lines of an account while it is made.

    Attributes:
        lines: (place or end, whether it is below zero) -> quantity and whether it is exact.
        doubtful: Millionths booked here that may be of another lot.
        surplus: Millionths counted beyond what there was, though no more was used.
    """

    def __init__(self) -> None:
        self.lines: dict[tuple[str, bool], tuple[float, bool]] = {}
        self.doubtful = 0.0
        self.surplus = 0.0

    def add(self, where: str, quantity: float, *, exact: bool) -> None:
        """Add to a line; what is below zero has one of its own."""
        if abs(quantity) < ROUNDING:
            return
        key = (str(where), quantity < 0)
        before, was_exact = self.lines.get(key, (0.0, True))
        self.lines[key] = (before + quantity, was_exact and exact)

    def doubt(self, where: str) -> None:
        """Note that more of what was asked about may be at a place than is booked there."""
        key = (str(where), False)
        if key in self.lines:
            self.lines[key] = (self.lines[key][0], False)

    def rows(self, total: float) -> tuple[AccountLine, ...]:
        """Give the lines in whole millionths, places before ends.

        What rounding leaves over goes to the longest line, so that the lines sum to the total; a
        gap that rounding cannot have made stays. Of numbers that do not add up none is exact.
        """
        micro = {key: round(quantity) for key, (quantity, _) in self.lines.items()}
        over = round(total) - sum(micro.values())
        if micro and abs(over) <= len(micro) + ROUNDING * abs(total):
            micro[max(micro, key=lambda key: abs(micro[key]))] += over
        adds_up = min(micro.values(), default=0) >= 0
        rows = [
            AccountLine(key[0], tidy(quantity / MICRO), adds_up and self.lines[key][1])
            for key, quantity in micro.items()
            if quantity
        ]
        return tuple(
            sorted(rows, key=lambda row: (row.where in _ENDS, row.where, row.quantity < 0))
        )


def tidy(value: float) -> float:
    """Round away what floating point left over."""
    return round(value, 6) + 0.0
