"""Foreign errors turned into ours, in this one place."""

from __future__ import annotations

import sqlite3
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.errors import Unavailable

__all__ = ["translated"]


@contextmanager
def translated(where: str) -> Iterator[None]:
    """Turn errors of the database into ours.

    Args:
        where: How the message names the store.

    Raises:
        Unavailable: The database said that it cannot be used.
    """
    try:
        yield
    except Exception as error:
        # SQLAlchemy wraps the error of the driver; neither it nor psycopg is always loaded
        wrapped = getattr(error, "orig", None)
        cause = wrapped if isinstance(wrapped, Exception) else error
        if not isinstance(cause, sqlite3.Error) and not _is_of_psycopg(cause):
            raise
        raise _ours(where, str(cause)) from error


def _is_of_psycopg(error: Exception) -> bool:
    return type(error).__module__.partition(".")[0] == "psycopg"


def _ours(where: str, text: str) -> Unavailable:
    from lotkin.core.errors import StoreLocked, StoreUnreadable  # noqa: PLC0415 - only where one is raised

    if "locked" in text or "busy" in text or "lock timeout" in text:
        return StoreLocked(where)
    return StoreUnreadable(where, text)
