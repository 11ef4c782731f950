"""What is odd about a scan but possible: it is asked about once, and taken if it is said again."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin.core.rules.known_otherwise import named_or_issued
from lotkin.core.rules.written_codes import fits_mask, in_digits, is_slip
from lotkin.core.values.amounts import show_limits

if TYPE_CHECKING:
    from collections.abc import Collection

    from lotkin.core.dialogue.desk import Desk
    from lotkin.core.dialogue.number_slot import NumberSlot

__all__ = ["MORE_THAN_ORDERED", "doubt_of_number", "problem_of_new_code"]

MORE_THAN_ORDERED = Decimal("1.1")
"""Ten percent more than ordered is made on purpose; common practice, no source."""

SLIPS = (Decimal(10), Decimal(100), Decimal(1000))
"""A decimal point left out or misplaced."""


def doubt_of_number(slot: NumberSlot, value: Decimal) -> str:
    """Say why a number can hardly be meant; "" if it can."""
    if slot.most is not None and value > slot.most:
        return f"{value:f}? {slot.why}"
    if not _is_far_out(value, slot.low, slot.high):
        return ""
    limits = show_limits(slot.low, slot.high, "")
    return f"{value:f}? the limits are {limits}"


def _is_far_out(value: Decimal, low: Decimal | None, high: Decimal | None) -> bool:
    """Tell whether a reading is beyond its limits by a factor of ten, or by a decimal point."""
    if _is_within(value, low, high):
        return False
    if low is not None and high is not None:
        slipped = [value / by for by in SLIPS] + [value * by for by in SLIPS]
        if value and any(_is_within(each, low, high) for each in slipped):
            return True
    too_high = high is not None and high > 0 and value > high * 10
    return too_high or (low is not None and low > 0 and value * 10 < low)


def _is_within(value: Decimal, low: Decimal | None, high: Decimal | None) -> bool:
    return (low is None or value >= low) and (high is None or value <= high)


def problem_of_new_code(text: str, masks: Collection[str], what: str, desk: Desk) -> str:
    """Say why a code that is not recorded cannot be the code of something new; "" if it can.

    Args:
        text: What was scanned.
        masks: How such codes are written, by the plan; empty where it does not say.
        what: What would get the code, in the plural: `serials of DP40`, `cartons`.
        desk: What is recorded.
    """
    other = named_or_issued(desk.view, desk.plan, text)
    if other is not None:
        return other.message
    if masks:
        if any(fits_mask(text, mask) for mask in masks):
            return ""
        written = f"{what} are written {' or '.join(masks)}"
        near = _meant(text, desk)
        return f"{text} is not recorded; {written}" + (f"; is {near} meant?" if near else "")
    near = _meant(text, desk)
    if near:
        return f"{text} is not recorded; is {near} meant? scan its label again"
    traveller = text.rpartition("-")[0]
    if traveller and desk.traveller_part(traveller) is not None:
        return f"{text} is not recorded; lots of traveller {traveller} begin like that"
    return ""


def _meant(text: str, desk: Desk) -> str:
    """Give the recorded code that a text is a slip of; "" if it is of none."""
    for code in [*desk.view.near(text), *desk.view.near(in_digits(text))]:
        known = desk.view.item(code)
        if known is not None and is_slip(text, known):
            return code
    return ""
