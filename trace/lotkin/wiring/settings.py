"""Settings: which store is meant."""

from __future__ import annotations

import os

__all__ = ["DEFAULT_DB", "db_url"]

DEFAULT_DB = "lotkin.db"


def db_url(given: str | None = None) -> str:
    """Tell which store is meant: the one given, else `LOTKIN_DB`, else `lotkin.db` here."""
    return given or os.environ.get("LOTKIN_DB") or DEFAULT_DB
