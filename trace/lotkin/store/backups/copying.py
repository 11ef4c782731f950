"""Copying a store while it is used."""

from __future__ import annotations

import sqlite3
from typing import TYPE_CHECKING

from lotkin.core.errors import BackupRefused, Unavailable
from lotkin.store.connection.engine import translated

if TYPE_CHECKING:
    from pathlib import Path

    from sqlalchemy import Engine

__all__ = ["check_whole", "copy_store"]

PAGES = 4096


def copy_store(engine: Engine, path: Path) -> None:
    """Copy a store as it is at one moment, others reading and writing meanwhile.

    Source: sqlite.org, Online Backup API.

    Raises:
        Unavailable: The store is on a server, which has means of its own.
    """
    if engine.dialect.name != "sqlite":
        raise Unavailable(
            "a store on a server is backed up by the server",
            record=engine.url.database or "",
            hint="use pg_dump, and copy the folder of documents; see the guide on backups",
        )
    with translated(engine), engine.connect() as connection:
        raw = connection.connection.dbapi_connection
        assert isinstance(raw, sqlite3.Connection)
        copy = sqlite3.connect(path)
        try:
            raw.backup(copy, pages=PAGES)
            copy.execute("PRAGMA journal_mode = DELETE")  # one file, nothing beside it
        finally:
            copy.close()


def check_whole(path: Path, named: str) -> None:
    """Check that a file is a database without damage.

    Raises:
        BackupRefused: It is not.
    """
    connection = sqlite3.connect(path)
    try:
        (said,) = connection.execute("PRAGMA integrity_check(1)").fetchone()
    except sqlite3.DatabaseError as error:
        raise BackupRefused(named, f"its tables are damaged ({error})") from error
    finally:
        connection.close()
    if said != "ok":
        raise BackupRefused(named, f"its tables are damaged ({said})")
