"""Time zones by their IANA names."""

from __future__ import annotations

import re
import zoneinfo

__all__ = ["is_timezone", "known_timezones"]

# Files beside the zones of the database that are not zones of it: the machine's own setting, the
# pattern for POSIX rules, and copies that count leap seconds.
_NOT_IANA = re.compile(r"(localtime|posixrules|Factory|posix/.*|right/.*)")
_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_+/-]{0,63}")


def is_timezone(name: str) -> bool:
    """Tell whether a name is one of the IANA time zone database, e.g. `Europe/Zurich`."""
    if not _NAME.fullmatch(name) or _NOT_IANA.fullmatch(name):
        return False
    try:
        zoneinfo.ZoneInfo(name)
    except (zoneinfo.ZoneInfoNotFoundError, ValueError, OSError):
        # OSError: `Europe` alone is a folder of the database.
        return False
    return True


def known_timezones() -> set[str]:
    """Give all IANA names that this machine's database has; some hundreds."""
    return {name for name in zoneinfo.available_timezones() if not _NOT_IANA.fullmatch(name)}
