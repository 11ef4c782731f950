"""Ranking what units that failed share, and telling which of it is more than chance."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from lotkin.core.quality.cause.false_discovery import adjusted
from lotkin.core.quality.cause.fisher import fisher_greater

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = ["FEWEST_COMPLAINTS", "LEVEL", "Compared", "Suspect", "compare"]

FEWEST_COMPLAINTS = 3
"""Below this nothing is tested: two units that share a lot are no pattern. Common practice."""

LEVEL = Fraction(5, 100)
"""Share of false findings that is accepted. Common practice."""


@dataclass(frozen=True, slots=True)
class Suspect:
    """What failed units share: one item, or several that the same units have.

    Attributes:
        items: Positions of items that this comparison cannot tell apart.
        failed: How many failed units have it.
        sound: How many other units have it.
        p: Chance that so many failed units have it by chance alone.
        adjusted: The same where as many things are tested as were.
    """

    items: tuple[int, ...]
    failed: int
    sound: int
    p: float
    adjusted: float

    @property
    def is_finding(self) -> bool:
        """Tell whether it is more than chance."""
        return self.adjusted <= float(LEVEL)


@dataclass(frozen=True, slots=True)
class Compared:
    """A comparison of failed units with others.

    Attributes:
        failed, sound: How many units were compared.
        tested: How many different sets of units were tested.
        untested: How many were not, as so few or so many units have the item that no outcome
            could be a finding.
        suspects: What at least two failed units share of what was tested, the least likely to be
            chance first.
    """

    failed: int
    sound: int
    tested: int
    untested: int
    suspects: tuple[Suspect, ...]


def compare(holders: Mapping[int, int], failed: int, everyone: int) -> Compared:
    """Compare how often failed units and sound ones have each item.

    What could be tested is chosen by how many units have it, never by how many of them failed:
    choosing by that would make findings out of chance.

    Args:
        holders: Position of an item -> units that have it, as bits.
        failed: Bits of the units that failed.
        everyone: Bits of all units that are compared, the failed ones among them.

    Source: Fisher's exact test, Benjamini and Hochberg 1995; leaving out what cannot be found by
        its totals alone as by Tarone, Biometrics 46 (1990) 515-522.
    """
    groups: dict[int, list[int]] = {}
    for i, units in holders.items():
        if units & everyone:
            groups.setdefault(units & everyone, []).append(i)
    size, bad = everyone.bit_count(), failed.bit_count()
    by_total = {total: _best(total, bad, size) for total in {units.bit_count() for units in groups}}
    tested = [units for units in groups if by_total[units.bit_count()] <= LEVEL]
    tables = [((units & failed).bit_count(), units.bit_count()) for units in tested]
    known = {table: _p(*table, bad, size) for table in set(tables)}
    values = [known[table] for table in tables]
    ranked = sorted(
        (p, total, min(groups[units]), units, together, fair)
        for units, (together, total), p, fair in zip(
            tested, tables, values, adjusted(values), strict=True
        )
        if together > 1
    )
    suspects = [
        Suspect(tuple(sorted(groups[units])), together, total - together, float(p), float(fair))
        for p, total, _, units, together, fair in ranked
    ]
    return Compared(bad, size - bad, len(tested), len(groups) - len(tested), tuple(suspects))


def _p(together: int, total: int, bad: int, size: int) -> Fraction:
    """Give the p value where some of the units that have an item failed."""
    sound = total - together
    return fisher_greater((together, sound), (bad - together, size - bad - sound))


def _best(total: int, bad: int, size: int) -> Fraction:
    """Give the lowest p value that is possible if so many units have an item."""
    return _p(min(total, bad), total, bad, size)
