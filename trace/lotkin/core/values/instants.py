"""Moments as aware UTC datetimes outside and integer microseconds since 1970 inside."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import tzinfo

__all__ = [
    "FIRST_YEAR",
    "LAST_YEAR",
    "from_us",
    "in_utc",
    "parse_instant",
    "parse_spoken",
    "show_instant",
    "show_local",
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


def show_local(us: int | None, zone: tzinfo | None) -> str:
    """Write a moment to the second in a time zone, UTC for none; "" if it is not known."""
    if us is None:
        return ""
    try:
        local = from_us(us).astimezone(zone) if zone is not None else from_us(us)
    except OverflowError:
        local = from_us(us)  # at the ends of the calendar there is no other zone
    return local.isoformat(" ", timespec="seconds").replace("+00:00", "Z")


def parse_spoken(text: str, zone: tzinfo | None, *, is_end: bool = False) -> datetime:
    """Read a moment as people of a works say it: without a zone it is in that of the works.

    A day alone means its first moment, or as the end of a span its last.

    Args:
        text: RFC 3339 with or without a zone, or a day.
        zone: Of the works; None if that is not known, and then a moment must say its own.
        is_end: Whether a span ends with it.

    Raises:
        ValueError: Not a moment, its zone would be a guess, or of no year a works can have.
    """
    moment = datetime.fromisoformat(text)
    if is_end and len(text) == len("2026-03-01"):
        moment = datetime.combine(date.fromisoformat(text), time.max)
    if moment.tzinfo is None and zone is not None:
        moment = moment.replace(tzinfo=zone)
    return in_utc(moment)
