"""The time zone that the people of a works speak in."""

from __future__ import annotations

import zoneinfo
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import tzinfo

__all__ = ["zone_of"]


def zone_of(name: str) -> tzinfo | None:
    """Give a time zone by its name, UTC for no name; None if this machine does not know it."""
    try:
        return zoneinfo.ZoneInfo(name or "UTC")
    except (zoneinfo.ZoneInfoNotFoundError, ValueError, OSError):
        # a machine without time zones still shows the right moment
        return None
