"""Whether a delivery can be what is said of it: weight, length, expiry, and received before."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin.core.materials.finding import Finding, Severity
from lotkin.core.values.instants import from_us
from lotkin.core.values.quantities import show_quantity

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import datetime, timedelta

    from lotkin.core.genealogy.items import Item

__all__ = [
    "DUPLICATE_DAYS",
    "Bars",
    "check_expiry",
    "check_length",
    "check_weight",
    "duplicates",
    "kg_per_metre",
]

QUARTER_OF_PI = Decimal("0.78539816339744830961566084581987572")
CUBIC_MM_IN_CUBIC_M = Decimal(10) ** 9

WEIGHT_WARNING = Decimal("0.05")
"""Tolerances of diameter and length, and the packing weighed with it, explain less than that."""

WEIGHT_HOLD = Decimal("0.20")
"""No tolerance explains that: another material, another diameter, or bars missing by the fifth."""

LENGTH_WARNING = Decimal("0.02")
"""Bars are cut a little long."""

DUPLICATE_DAYS = 14
"""Days within which the same quantity of the same lot is likely the same delivery."""


@dataclass(frozen=True, slots=True)
class Bars:
    """What came, as it was counted, measured and weighed; None where it was not.

    Attributes:
        count: Bars.
        length_mm: Of one bar.
        diameter_mm: Of round bars.
        mass_kg: Of the delivery.
    """

    count: int | None = None
    length_mm: Decimal | None = None
    diameter_mm: Decimal | None = None
    mass_kg: Decimal | None = None

    @property
    def metres(self) -> Decimal | None:
        """The length of all bars together."""
        if self.count is None or self.length_mm is None:
            return None
        return self.count * self.length_mm / 1000


def kg_per_metre(diameter_mm: Decimal, density_kg_m3: Decimal) -> Decimal:
    """Give the mass of one metre of a round bar in kg: pi / 4 times d squared times density.

    Source: geometry; tables of it are in any handbook of steel.

    Example:
        >>> round(kg_per_metre(Decimal(20), Decimal(7850)), 3)
        Decimal('2.466')
    """
    square_mm = QUARTER_OF_PI * diameter_mm * diameter_mm
    return square_mm * density_kg_m3 * 1000 / CUBIC_MM_IN_CUBIC_M


def check_weight(
    bars: Bars,
    metres: Decimal | None,
    density_kg_m3: tuple[Decimal, Decimal],
    *,
    record: str,
    is_proven: bool = True,
) -> list[Finding]:
    """Compare the weight of a delivery of round bars with what its metres would weigh.

    Args:
        bars: Diameter and weight must be known, else nothing is compared.
        metres: Length of all bars together.
        density_kg_m3: Lowest and highest density of the material.
        record: Code of the part, for the message.
        is_proven: The density was read in a public table; else the message says that it was not.

    Returns:
        A warning where it is off by more than 5 %, a reason to hold from 20 %: own choice. Brass
        for steel is off by 8 %, copper for brass by 5 %, steel for aluminium by 190 %.
    """
    if not (metres and bars.mass_kg and bars.diameter_mm):
        return []
    least, most = (kg_per_metre(bars.diameter_mm, d) * metres for d in density_kg_m3)
    nearest = min(max(bars.mass_kg, least), most)
    off = (bars.mass_kg - nearest) / nearest
    if abs(off) <= WEIGHT_WARNING:
        return []
    sign = "more" if off > 0 else "less"
    text = (
        f"{record}: {_plain(bars.mass_kg)} kg came, {_plain(metres)} m of "
        f"{_plain(bars.diameter_mm)} mm round would be {nearest:.1f} kg; "
        f"{abs(off) * 100:.0f} % {sign}: other material, diameter or length?"
    )
    if not is_proven:
        text += " The density that this is reckoned with was read in no published table."
    severity = Severity.HOLD if abs(off) >= WEIGHT_HOLD else Severity.WARNING
    return [Finding("weight", severity, record, text)]


def check_length(bars: Bars, metres: Decimal | None, *, record: str) -> list[Finding]:
    """Compare the metres with bars times their length; a warning if off by more than 2 %."""
    counted = bars.metres
    if not (metres and counted) or abs(counted - metres) <= metres * LENGTH_WARNING:
        return []
    text = (
        f"{record}: {bars.count} bars of {_plain(bars.length_mm or Decimal(0))} mm are "
        f"{_plain(counted)} m, not {_plain(metres)} m"
    )
    return [Finding("length", Severity.WARNING, record, text)]


def check_expiry(
    due: datetime | None, at: datetime, shelf_life: timedelta | None, *, record: str
) -> list[Finding]:
    """Look at the date after which the delivery must not be used.

    Args:
        due: That date; None if none is known.
        at: When it came.
        shelf_life: That of the plan; None if the plan has none.
        record: Code of the part, for the message.

    Returns:
        A reason to hold if it is over; a warning if less than a quarter of the shelf life is left,
        or more than all of it: then the year is mistyped. Quarter: common practice, no source.
    """
    if due is None:
        return []
    day = due.date().isoformat()
    if due <= at:
        return [Finding("expired", Severity.HOLD, record, f"{record}: expired on {day}")]
    if shelf_life is None:
        return []
    left = due - at
    if left * 4 < shelf_life:
        text = f"{record}: expires on {day}, in {left.days} of {shelf_life.days} days"
        return [Finding("short-dated", Severity.WARNING, record, text)]
    if left > shelf_life * 1.02:
        text = f"{record}: expires on {day}, later than its {shelf_life.days} days of shelf life"
        return [Finding("expiry-too-late", Severity.WARNING, record, text)]
    return []


def duplicates(
    earlier: Iterable[Item], *, quantity: int, at_us: int, number: str, record: str
) -> list[Finding]:
    """Name earlier deliveries that this one may be again.

    Args:
        earlier: Deliveries of the same part and supplier with the same heat or lot number.
        quantity: Millionths of what came now.
        at_us: When it came, in microseconds UTC.
        number: Heat or lot, for the message.
        record: Code of the part, for the message.

    Returns:
        One warning for each with the same quantity within `DUPLICATE_DAYS` days.
    """
    found = []
    for item in earlier:
        if item.quantity != quantity or item.made_at is None:
            continue
        if abs(at_us - item.made_at) > DUPLICATE_DAYS * 86_400_000_000:
            continue
        day = from_us(item.made_at).date().isoformat()
        said = show_quantity(quantity, item.unit)
        text = f"{record}: {said} of {number} were received on {day} already, as {item.code}"
        found.append(Finding("duplicate", Severity.WARNING, item.code, text))
    return found


def _plain(value: Decimal) -> str:
    text = format(value, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text
