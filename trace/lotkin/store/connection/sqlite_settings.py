"""How SQLite is set on every connection, whoever opens it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import sqlite3

__all__ = ["BUSY_MS", "set_up_sqlite"]

BUSY_MS = 20_000
"""How long one who writes waits for another."""


def set_up_sqlite(connection: sqlite3.Connection) -> None:
    """Let us begin transactions ourselves; durable writes, readers beside one writer."""
    connection.isolation_level = None
    for said in (
        f"busy_timeout = {BUSY_MS}",
        "synchronous = FULL",
        "foreign_keys = ON",
        "temp_store = MEMORY",
        "cache_size = -65536",
    ):
        connection.execute(f"PRAGMA {said}").close()
