"""Opening a store: engines, connections, transactions, and foreign errors turned into ours."""

from __future__ import annotations

import sqlite3
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sqlalchemy import URL, create_engine, event
from sqlalchemy.exc import DBAPIError
from sqlalchemy.pool import StaticPool

from lotkin.core.errors import StoreLocked, StoreUnreadable, Unavailable
from lotkin.store.postgres import is_postgres, open_postgres

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sqlalchemy import Connection, Engine

__all__ = ["MEMORY", "open_engine", "reading", "sqlite_path", "translated", "writing"]

MEMORY = "sqlite://"
"""A store that lives in memory, for tests and trials."""

BUSY_MS = 20_000


def sqlite_path(url: str) -> Path | None:
    """Give the file of a SQLite URL or path; None for a database server or memory."""
    if url == MEMORY or is_postgres(url):
        return None
    return Path(url.removeprefix("sqlite:///"))


def open_engine(url: str) -> Engine:
    """Make an engine for a path, a `sqlite:///` or a `postgresql://` URL; nothing is opened yet.

    Raises:
        Unavailable: The URL is of a kind that lotkin cannot use.
    """
    if url == MEMORY:
        engine = create_engine(
            MEMORY, poolclass=StaticPool, connect_args={"check_same_thread": False}
        )
    elif (path := sqlite_path(url)) is not None:
        if "://" in url and not url.startswith("sqlite:///"):
            raise Unavailable(f"{url} is no SQLite file", record=url, hint="name a file")
        engine = create_engine(
            URL.create("sqlite", database=str(path)), connect_args={"timeout": BUSY_MS / 1000}
        )
    else:
        return open_postgres(url)
    event.listen(engine, "connect", _set_up_sqlite)
    event.listen(engine, "begin", _begin_sqlite)
    return engine


def _set_up_sqlite(connection: sqlite3.Connection, _: Any) -> None:
    """Let us begin transactions ourselves; durable writes, readers beside one writer."""
    connection.isolation_level = None
    cursor = connection.cursor()
    cursor.execute(f"PRAGMA busy_timeout = {BUSY_MS}")
    cursor.execute("PRAGMA synchronous = FULL")
    cursor.execute("PRAGMA foreign_keys = ON")
    cursor.execute("PRAGMA temp_store = MEMORY")
    cursor.execute("PRAGMA cache_size = -65536")
    cursor.close()


def _begin_sqlite(connection: Connection) -> None:
    writes = connection.get_execution_options().get("writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


@contextmanager
def reading(engine: Engine) -> Iterator[Connection]:
    """Give a connection that sees one state of the store."""
    with translated(engine), engine.connect() as connection, connection.begin() as transaction:
        yield connection
        transaction.rollback()


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """Give a connection for one transaction: kept if the block ends well, else undone."""
    with (
        translated(engine),
        engine.connect().execution_options(writes=True) as connection,
        connection.begin(),
    ):
        yield connection


@contextmanager
def translated(engine: Engine) -> Iterator[None]:
    """Turn errors of the database into ours, in this one place."""
    where = engine.url.database or engine.url.render_as_string()
    try:
        yield
    except DBAPIError as error:
        raise _ours(where, str(error.orig)) from error
    except sqlite3.Error as error:
        raise _ours(where, str(error)) from error
    except Exception as error:
        # what goes past SQLAlchemy ends with errors of the driver, which is loaded by need only
        if type(error).__module__.partition(".")[0] != "psycopg":
            raise
        raise _ours(where, str(error)) from error


def _ours(where: str, text: str) -> Unavailable:
    if "locked" in text or "busy" in text or "lock timeout" in text:
        return StoreLocked(where)
    return StoreUnreadable(where, text)
