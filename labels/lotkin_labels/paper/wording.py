"""How kinds, dates and limits are said on paper."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from lotkin.core.values.instants import from_us

if TYPE_CHECKING:
    from decimal import Decimal

    from lotkin.core.plan import ShopPlan

__all__ = ["show_day", "show_kind", "show_limits", "show_moment"]


def show_kind(kind: str) -> str:
    """Write a kind of item or resource in plain words.

    >>> show_kind("machined-lot")
    'machined lot'
    """
    return kind.replace("-", " ")


def show_day(us: int | None, plan: ShopPlan | None = None) -> str:
    """Write the day of a moment in the time zone of the works, per ISO 8601; "" if not known.

    Without a plan, and on a machine without time zones, it is the day in UTC.

    >>> show_day(0)
    '1970-01-01'
    """
    if us is None:
        return ""
    moment = from_us(us)
    if plan is not None:
        with suppress(ZoneInfoNotFoundError, ValueError, OSError):
            moment = moment.astimezone(ZoneInfo(plan.works.timezone))
    return moment.date().isoformat()


MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def show_moment(us: int, plan: ShopPlan | None = None) -> str:
    """Write a moment to the minute as people at the works read it, in its time zone.

    Without a plan, and on a machine without time zones, it is in UTC and says so.

    >>> show_moment(0)
    '1 Jan 1970, 00:00 UTC'
    """
    moment, zone = from_us(us), " UTC"
    if plan is not None:
        with suppress(ZoneInfoNotFoundError, ValueError, OSError):
            moment, zone = moment.astimezone(ZoneInfo(plan.works.timezone)), ""
    day = f"{moment.day} {MONTHS[moment.month - 1]} {moment.year}"
    return f"{day}, {moment:%H:%M}{zone}"


def show_limits(low: Decimal | None, high: Decimal | None, unit: str) -> str:
    """Write limits with their unit, whichever of them there are.

    >>> from decimal import Decimal
    >>> show_limits(Decimal("9.98"), Decimal("10.02"), "mm")
    '9.98 to 10.02 mm'
    >>> show_limits(None, Decimal(65), "°C"), show_limits(Decimal(60), None, "minutes")
    ('at most 65 °C', 'at least 60 minutes')
    """
    if low is not None and high is not None:
        return f"{low:f} to {high:f} {unit}"
    if low is not None:
        return f"at least {low:f} {unit}"
    if high is not None:
        return f"at most {high:f} {unit}"
    return ""
