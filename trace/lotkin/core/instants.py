"""Moments as aware UTC datetimes outside and integer microseconds since 1970 inside."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

__all__ = ["from_us", "parse_instant", "show_instant", "show_utc", "to_us"]

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
ONE_US = timedelta(microseconds=1)


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
        ValueError: Not a moment, or without a zone (which would be a guess).
    """
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        msg = f"{text!r} has no time zone; write it like 2026-03-01T07:30:00Z"
        raise ValueError(msg)
    return moment.astimezone(UTC)
