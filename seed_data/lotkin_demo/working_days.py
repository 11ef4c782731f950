"""The calendar of the demo works: which days it works, from 2025-01-07 to 2026-07-31."""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache

__all__ = ["FIRST_DAY", "LAST_DAY", "working_days"]

FIRST_DAY = date(2025, 1, 7)
LAST_DAY = date(2026, 7, 31)

_CLOSED = (
    (date(2025, 4, 18), date(2025, 4, 21)),
    (date(2025, 5, 1), date(2025, 5, 1)),
    (date(2025, 7, 28), date(2025, 8, 8)),
    (date(2025, 12, 24), date(2026, 1, 2)),
    (date(2026, 4, 3), date(2026, 4, 6)),
    (date(2026, 5, 1), date(2026, 5, 1)),
)
"""Holidays and the summer break, first and last day."""


@cache
def working_days() -> tuple[date, ...]:
    """List the days on which the works is open, in order."""
    span = (LAST_DAY - FIRST_DAY).days
    days = [FIRST_DAY + timedelta(days=number) for number in range(span + 1)]
    return tuple(day for day in days if day.weekday() < 5 and not _is_closed(day))


def _is_closed(day: date) -> bool:
    return any(first <= day <= last for first, last in _CLOSED)
