"""Settings: which store is meant."""

from __future__ import annotations

import os
import re
from pathlib import Path

__all__ = ["DEFAULT_DB", "db_url", "session_file"]

DEFAULT_DB = "lotkin.db"


def db_url(given: str | None = None) -> str:
    """Tell which store is meant: the one given, else `LOTKIN_DB`, else `lotkin.db` here."""
    return given or os.environ.get("LOTKIN_DB") or DEFAULT_DB


def session_file(given: str | None, station: str) -> Path:
    """Tell where the session of a station is kept: beside the store, named after the station."""
    name = re.sub(r"[^A-Za-z0-9.-]", "_", station)
    store = Path(db_url(given).removeprefix("sqlite:///"))
    return store.with_name(f"{store.name}.station-{name}.json")
