"""Moments as aware UTC datetimes outside and integer microseconds since 1970 inside."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

__all__ = [
    "FIRST_YEAR",
    "LAST_YEAR",
    "from_us",
    "in_utc",
    "parse_instant",
    "show_instant",
    "show_utc",
    "to_us",
]

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
ONE_US = timedelta(microseconds=1)
FIRST_YEAR, LAST_YEAR = 1900, 9000
"""Nearer to the ends of the calendar a moment of one zone has no place in another."""


def to_us(moment: datetime) -> int:
    """Turn an aware datetime into microseconds since 1970-01-01 UTC."""
    return (moment - EPOCH) // ONE_US


def from_us(us: int) -> datetime:
    """Turn microseconds since 1970-01-01 UTC into an aware datetime."""
    return EPOCH + timedelta(microseconds=us)


def show_instant(us: int | None) -> str:
    """Write a moment per RFC 3339 in UTC, e.g. `2026-03-01T07:30:00Z`; "" if unknown."""
    if us is None:
        return ""
    return show_utc(from_us(us))


def show_utc(moment: datetime) -> str:
    """Write a moment that is in UTC per RFC 3339; microseconds only where there are some."""
    return moment.isoformat().removesuffix("+00:00") + "Z"


def parse_instant(text: str) -> datetime:
    """Read an RFC 3339 moment with its zone.

    Raises:
        ValueError: Not a moment, without a zone (which would be a guess), or of no year that a
            works can have.
    """
    return in_utc(datetime.fromisoformat(text))


def in_utc(moment: datetime) -> datetime:
    """Turn a moment with its zone into UTC.

    Raises:
        ValueError: It has no zone, or is not of a year that a works can have.

    Example:
        >>> in_utc(datetime.fromisoformat("2026-03-01T08:30:00+01:00")).hour
        7
    """
    if moment.tzinfo is None:
        msg = "needs a time zone, like 2026-03-01T07:30:00Z"
        raise ValueError(msg)
    if not FIRST_YEAR <= moment.year <= LAST_YEAR:
        msg = f"is not a date that a works can have; years go from {FIRST_YEAR} to {LAST_YEAR}"
        raise ValueError(msg)
    return moment.astimezone(UTC)
