"""How kinds and dates are said on paper."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.instants import from_us
from lotkin_answers.places import Places
from lotkin_answers.words import moment

if TYPE_CHECKING:
    from lotkin.core.plan import ShopPlan

__all__ = ["show_day", "show_kind", "show_moment"]


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
    return moment(us, Places(plan).zone)[:10]


MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def show_moment(us: int, plan: ShopPlan | None = None) -> str:
    """Write a moment to the minute as people at the works read it, in its time zone.

    Without a plan, and on a machine without time zones, it is in UTC and says so.

    >>> show_moment(0)
    '1 Jan 1970, 00:00 UTC'
    """
    zone = Places(plan).zone if plan is not None else None
    then = from_us(us) if zone is None else from_us(us).astimezone(zone)
    day = f"{then.day} {MONTHS[then.month - 1]} {then.year}"
    return f"{day}, {then:%H:%M}{' UTC' if zone is None else ''}"
