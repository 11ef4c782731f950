"""Amounts as people read them: rounded to what can be counted or weighed, never to nothing.

Whole pieces, or one decimal and *about* where pieces were shared out; grams and millimetres.
Documents for programs keep all digits.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from decimal import Decimal

__all__ = ["show_amount", "show_limits", "show_micro", "show_number"]

LEAST = {"kg": "1 g", "m": "1 mm"}
"""What a thousandth of a unit is called."""

DIGITS = 1e-6
"""Quantities are kept to a millionth of a unit."""


def show_amount(quantity: float, unit: str) -> str:
    """Write an amount with its unit.

    >>> show_amount(59.0, "pcs"), show_amount(27.225806, "pcs"), show_amount(0.000005, "pcs")
    ('59 pcs', 'about 27.2 pcs', 'under 0.1 pcs')
    >>> show_amount(0.532801, "kg"), show_amount(0.000001, "kg"), show_amount(-2.0, "m")
    ('0.533 kg', 'less than 1 g', '-2 m')
    """
    size = abs(quantity)
    if unit != "pcs" and 0 < size < 0.0005:
        return f"less than {LEAST.get(unit, f'0.001 {unit}'.rstrip())}"
    return f"{show_number(quantity, unit)} {unit}".rstrip()


def show_micro(micro: int, unit: str) -> str:
    """Write millionths as an amount with its unit.

    >>> show_micro(1_366_667, "pcs"), show_micro(2_315_000, "kg")
    ('about 1.4 pcs', '2.315 kg')
    """
    return show_amount(micro / MICRO, unit)


def show_number(quantity: float, unit: str) -> str:
    """Write an amount without its unit.

    >>> show_number(12, "pcs"), show_number(22.999999, "pcs"), show_number(0.25, "kg")
    ('12', 'about 23', '0.25')
    """
    size = abs(quantity)
    if unit != "pcs":
        return "under 0.001" if 0 < size < 0.0005 else _plain(quantity, 3)
    nearest = round(quantity)
    if abs(quantity - nearest) < DIGITS / 2:
        return str(nearest)
    return "under 0.1" if size < 0.05 else f"about {_plain(quantity, 1)}"


def show_limits(low: Decimal | None, high: Decimal | None, unit: str) -> str:
    """Write limits with their unit, whichever of them there are; "" for none.

    >>> from decimal import Decimal
    >>> show_limits(Decimal("9.98"), Decimal("10.02"), "mm")
    '9.98 to 10.02 mm'
    >>> show_limits(None, Decimal(65), "°C"), show_limits(Decimal(60), None, "")
    ('at most 65 °C', 'at least 60')
    """
    if low is not None and high is not None:
        said = f"{low:f} to {high:f}"
    elif low is not None:
        said = f"at least {low:f}"
    elif high is not None:
        said = f"at most {high:f}"
    else:
        return ""
    return f"{said} {unit}".rstrip()


def _plain(quantity: float, decimals: int) -> str:
    text = f"{quantity:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text
