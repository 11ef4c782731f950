"""Counts of units in an answer: how many are expected to be affected, and where they all are."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.values.places import End

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from lotkin.core.answers.rows import Row

__all__ = ["Expected", "UnitsByPlace", "expect", "units_by_place"]

ENDED = {End.SCRAP: "scrapped", End.SAMPLE: "used as samples", End.LOST: "lost"}
"""What became of units that are nowhere any more."""


class Expected(NamedTuple):
    """How many units are expected to be affected: a range where chances are not known."""

    low: float
    high: float

    @property
    def value(self) -> float | None:
        """The number; None where only a range is known."""
        return self.low if self.low == self.high else None

    @property
    def text(self) -> str:
        """Write it to one decimal.

        >>> Expected(57.0, 57.0).text, Expected(199.84, 199.84).text, Expected(51.0, 52.0).text
        ('57', '199.8', '51 to 52')
        """
        low, high = _written(self.low), _written(self.high)
        return low if low == high else f"{low} to {high}"


def expect(units: Iterable[Row], at_most: int) -> Expected:
    """Sum the chances over serials; where one is not known, its bounds.

    Args:
        units: Rows of units, states of one serial among them.
        at_most: No more than this can be affected, whatever the chances are.
    """
    low: dict[str, float] = {}
    high: dict[str, float] = {}
    rows = list(units)
    gone = {row.serial or row.code for row in rows if row.removed}
    for row in rows:
        serial = row.serial or row.code
        if serial not in gone:
            least, most = (
                (row.chance_low, row.chance_high)
                if row.chance is None
                else (row.chance, row.chance)
            )
            low[serial] = max(low.get(serial, 0.0), least)
            high[serial] = max(high.get(serial, 0.0), most)
    most = min(float(at_most), round(sum(high.values()), 6))
    return Expected(min(most, round(sum(low.values()), 6)), most)


class UnitsByPlace(NamedTuple):
    """Where units are, each counted once.

    Attributes:
        at_customers, here: With customers; in the works and at suppliers.
        ended: (what became of them, how many).
        elsewhere: Built into others, or with no place on record.
        unknown: At places of which nobody knows whether they are customers.
    """

    at_customers: int
    here: int
    ended: tuple[tuple[str, int], ...]
    elsewhere: int
    unknown: int = 0

    @property
    def total(self) -> int:
        """All of them."""
        return (
            self.at_customers
            + self.here
            + sum(n for _, n in self.ended)
            + self.elsewhere
            + self.unknown
        )

    @property
    def text(self) -> str:
        """Write the sum, e.g. `225 units = 212 at customers + 11 here + 2 scrapped`."""
        terms = [
            (self.at_customers, "at customers"),
            (self.here, "in the works and at suppliers"),
            (self.unknown, "at places of unknown kind"),
            *((number, what) for what, number in self.ended),
            (self.elsewhere, "built into others or at no recorded place"),
        ]
        said = " + ".join(f"{number} {what}" for number, what in terms if number)
        return f"{self.total} {'unit' if self.total == 1 else 'units'} = {said or 'none'}"


def units_by_place(units: Sequence[Row]) -> UnitsByPlace:
    """Count serials that are affected now by where they are; whoever is with a customer first."""
    gone = {row.serial or row.code for row in units if row.removed}
    found: dict[str, set[str]] = {}
    for row in units:
        serial = row.serial or row.code
        if serial not in gone:
            where = found.setdefault(serial, set())
            for here in row.at:
                if here.quantity > 0:
                    where.add(here.place if here.place_kind == "end" else here.place_kind or "?")
    customers = works = elsewhere = unknown = 0
    ended: dict[str, int] = {}
    ends = {str(end): words for end, words in ENDED.items()}
    for kinds in found.values():
        if "customer" in kinds:
            customers += 1
        elif kinds - {str(end) for end in End} - {"?"}:
            works += 1
        elif "?" in kinds:
            unknown += 1
        elif kinds:
            end = min(kinds)
            ended[ends.get(end, end)] = ended.get(ends.get(end, end), 0) + 1
        else:
            elsewhere += 1
    return UnitsByPlace(customers, works, tuple(sorted(ended.items())), elsewhere, unknown)


def _written(number: float) -> str:
    text = f"{number:.1f}".removesuffix(".0")
    return "under 0.1" if text == "0" and number > 0 else text
