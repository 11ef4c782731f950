"""Which kind of store an address means: a file, memory, or a server."""

from __future__ import annotations

from pathlib import Path

__all__ = ["MEMORY", "is_postgres", "sqlite_path"]

MEMORY = "sqlite://"
"""A store that lives in memory, for tests and trials."""

SCHEMES = ("postgresql:", "postgresql+")


def is_postgres(url: str) -> bool:
    """Tell whether a URL means a PostgreSQL server."""
    return url.startswith(SCHEMES)


def sqlite_path(url: str) -> Path | None:
    """Give the file of a SQLite URL or path; None for a database server or memory."""
    if url == MEMORY or is_postgres(url):
        return None
    return Path(url.removeprefix("sqlite:///"))
