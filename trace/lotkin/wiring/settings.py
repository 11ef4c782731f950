"""Settings: which store is meant."""

from __future__ import annotations

import os

__all__ = ["DEFAULT_DB", "SEAL_KEY", "base_url", "db_url", "names_seal_key"]

DEFAULT_DB = "lotkin.db"
SEAL_KEY = "LOTKIN_SEAL_KEY"
"""Setting that names the private key for seals."""


def db_url(given: str | None = None) -> str:
    """Tell which store is meant: the one given, else `LOTKIN_DB`, else `lotkin.db` here."""
    return given or os.environ.get("LOTKIN_DB") or DEFAULT_DB


def base_url() -> str | None:
    """Tell where the pages of the works are: `LOTKIN_BASE_URL`, if it is set."""
    return os.environ.get("LOTKIN_BASE_URL") or None


def names_seal_key() -> bool:
    """Tell whether a key for seals is named."""
    return bool(os.environ.get(SEAL_KEY))
