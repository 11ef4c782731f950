"""Dates as labels write them: six digits without a century, or eight; and their day 00."""

from __future__ import annotations

import calendar
from datetime import date

from lotkin.core.scan.characters import DIGITS

__all__ = ["date_problem", "day_of", "full_day_of"]

ANY_LEAP_CENTURY = 2000
"""Stands in where only the digits are looked at: leap years come alike in both near centuries."""


def date_problem(text: str, *, day_zero: bool) -> str:
    """Say what is wrong with a date YYMMDD or YYYYMMDD; "" if nothing is.

    Args:
        text: The digits.
        day_zero: Whether day 00 may stand for the last day of the month.
    """
    if not DIGITS.issuperset(text) or len(text) not in (6, 8):
        return "must be a date of six digits, YYMMDD" if len(text) != 8 else "must be digits only"
    year = int(text[:-4]) if len(text) == 8 else ANY_LEAP_CENTURY + int(text[:2])
    month, day = int(text[-4:-2]), int(text[-2:])
    if not 1 <= month <= 12:
        return "has no such month"
    if year == 0:
        return "has no such year"
    first = 0 if day_zero else 1
    if not first <= day <= calendar.monthrange(year, month)[1]:
        return "has no such day in its month"
    return ""


def day_of(text: str, today: date) -> date | None:
    """Give the day that YYMMDD means; None if it is no date.

    The century is the one that brings the year nearest: more than 50 years ahead belongs to the
    century before, more than 49 years back to the next. Day 00 is the last of the month.

    Source: GS1 General Specifications, section 7.12 (from memory) for the century, and the
    definitions of the Application Identifiers 11 to 17 for day 00.

    Example:
        >>> day_of("990200", date(2026, 1, 1))
        datetime.date(1999, 2, 28)
    """
    if len(text) != 6 or date_problem(text, day_zero=True):
        return None
    year = today.year - today.year % 100 + int(text[:2])
    if year - today.year > 50:
        year -= 100
    elif today.year - year > 49:
        year += 100
    return full_day_of(f"{year:04}{text[2:]}")


def full_day_of(text: str) -> date | None:
    """Give the day that YYYYMMDD means; None if it is no date. Day 00 is the last of the month."""
    if len(text) != 8 or date_problem(text, day_zero=True):
        return None
    year, month, day = int(text[:4]), int(text[4:6]), int(text[6:])
    last = calendar.monthrange(year, month)[1]
    return date(year, month, day or last) if day <= last else None
