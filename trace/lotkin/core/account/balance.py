"""The balance of an account: what is accounted for, what is missing, and what does not add up.

Every face says it in the words of this module.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from lotkin.core.values.amounts import show_amount, show_number

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["Balance", "Verdict"]

TOLERANCE = 1e-6
"""Quantities are kept to a millionth of a unit."""


class Verdict(StrEnum):
    """How an account ends."""

    COMPLETE = "complete"
    MISSING = "missing"
    DOES_NOT_ADD_UP = "does not add up"
    NOT_ALL_KNOWN = "not all known"


@dataclass(frozen=True, slots=True)
class Balance:
    """How far a quantity is accounted for, in one unit.

    Attributes:
        unit: Unit of all of them.
        of: How much there was.
        found: How much is at known places and recorded ends.
        missing: How much was lost.
        untold: How much was used without a recorded quantity.
        nowhere: How much is somewhere, but where is not recorded.
        over: How much more was used, counted or brought back than there was.
        doubtful: How much is booked to it although it may be of another lot.
        surplus: How much of `over` was counted, and not used.
        unknown: How much is not known for a reason that is not told.
    """

    unit: str
    of: float
    found: float
    missing: float = 0.0
    untold: float = 0.0
    nowhere: float = 0.0
    over: float = 0.0
    doubtful: float = 0.0
    surplus: float = 0.0
    unknown: float = 0.0

    def settled(self) -> Balance:
        """Make the balance of the sums of an account's lines.

        What is doubtful explains so much of what is over. What the sums lack of the whole is
        missing, and what they have too much is over.
        """
        explained = min(self.over, self.doubtful)
        told = self.found + self.missing + self.untold + self.nowhere - self.over
        rest = self.of - told
        slack = max(TOLERANCE, 1e-9 * abs(self.of))
        over = self.over - explained + (-rest if rest < -slack else 0.0)
        return Balance(
            self.unit,
            _tidy(self.of),
            _tidy(self.found - explained),
            missing=_tidy(self.missing + (rest if rest > slack else 0.0)),
            untold=_tidy(self.untold),
            nowhere=_tidy(self.nowhere),
            over=_tidy(over),
            doubtful=_tidy(explained),
            surplus=_tidy(min(self.surplus, over)),
        )

    @property
    def verdict(self) -> Verdict:
        """Say how it ends; the gravest first."""
        if self.over:
            return Verdict.DOES_NOT_ADD_UP
        if self.missing:
            return Verdict.MISSING
        if self.untold or self.nowhere or self.doubtful or self.unknown:
            return Verdict.NOT_ALL_KNOWN
        return Verdict.COMPLETE

    @property
    def is_complete(self) -> bool:
        """Tell whether every piece is at a known place or a recorded end."""
        return self.verdict is Verdict.COMPLETE

    @property
    def text(self) -> str:
        """Say it in one line.

        >>> Balance("pcs", 59, 59).text
        '59 of 59 pcs accounted for'
        >>> Balance("pcs", 250, 240, missing=10).text
        '240 of 250 pcs accounted for, 10 pcs missing'
        """
        lacks = ", ".join(self._lacks())
        if self.over:
            return f"does not add up: {self._too_many()}{', ' + lacks if lacks else ''}"
        found, of = show_number(self.found, self.unit), show_amount(self.of, self.unit)
        said = f"{found} of {of} accounted for"
        if self.verdict is Verdict.NOT_ALL_KNOWN:
            return f"{said}, not all known: {lacks}"
        return f"{said}, {lacks}" if lacks else said

    def _too_many(self) -> str:
        """Say what there was too much of; pieces that came back beyond those sent were used."""
        said = []
        if self.over - self.surplus > TOLERANCE / 2:
            used = show_amount(self.over - self.surplus, self.unit)
            said.append(f"{used} more were used than were made")
        if self.surplus:
            said.append(f"{show_amount(self.surplus, self.unit)} more were counted than there were")
        return " and ".join(said)

    def _lacks(self) -> Iterator[str]:
        if self.missing:
            yield f"{show_amount(self.missing, self.unit)} missing"
        if self.untold:
            yield f"{show_amount(self.untold, self.unit)} used without a recorded quantity"
        if self.nowhere:
            yield f"{show_amount(self.nowhere, self.unit)} at no recorded place"
        if self.doubtful:
            yield f"{show_amount(self.doubtful, self.unit)} may be of another lot"
        if self.unknown:
            yield f"{show_amount(self.unknown, self.unit)} not known where"


def _tidy(value: float) -> float:
    return round(value, 6) + 0.0
