"""Settings: which store is meant."""

from __future__ import annotations

import os
import re
from pathlib import Path

from lotkin.store.connection.urls import is_postgres

__all__ = ["DEFAULT_DB", "SEAL_KEY", "base_url", "db_url", "names_seal_key", "session_file"]

DEFAULT_DB = "lotkin.db"
SEAL_KEY = "LOTKIN_SEAL_KEY"
"""Setting that names the private key for seals."""


def db_url(given: str | None = None) -> str:
    """Tell which store is meant: the one given, else `LOTKIN_DB`, else `lotkin.db` here."""
    return given or os.environ.get("LOTKIN_DB") or DEFAULT_DB


def base_url() -> str | None:
    """Tell where the pages of the works are: `LOTKIN_BASE_URL`, if it is set."""
    return os.environ.get("LOTKIN_BASE_URL") or None


def session_file(given: str | None, station: str) -> Path:
    """Tell where the session of a station is kept: beside the store, named after the station.

    For a store on a server it is here, named after the database.
    """
    name = re.sub(r"[^A-Za-z0-9.-]", "_", station)
    url = db_url(given)
    if is_postgres(url):
        database = re.sub(r"[^A-Za-z0-9.-]", "_", url.partition("?")[0].rsplit("/", 1)[-1])
        return Path(f"{database}.station-{name}.json")
    store = Path(url.removeprefix("sqlite:///"))
    return store.with_name(f"{store.name}.station-{name}.json")


def names_seal_key() -> bool:
    """Tell whether a key for seals is named."""
    return bool(os.environ.get(SEAL_KEY))
