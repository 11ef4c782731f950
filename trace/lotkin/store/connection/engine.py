"""SQLAlchemy's engines and connections, for what is written in its terms."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from sqlalchemy import URL, create_engine, event
from sqlalchemy.pool import StaticPool

from lotkin.store.connection import failing, sqlite_settings
from lotkin.store.connection.postgres import open_postgres
from lotkin.store.connection.sqlite_settings import set_up_sqlite
from lotkin.store.connection.urls import MEMORY, sqlite_path

if TYPE_CHECKING:
    import sqlite3
    from collections.abc import Iterator
    from contextlib import AbstractContextManager

    from sqlalchemy import Connection, Engine

__all__ = ["open_engine", "reading", "translated", "writing"]


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
        engine = create_engine(
            URL.create("sqlite", database=str(path)),
            connect_args={"timeout": sqlite_settings.BUSY_MS / 1000},
        )
    else:
        return open_postgres(url)
    event.listen(engine, "connect", _set_up_sqlite)
    event.listen(engine, "begin", _begin_sqlite)
    return engine


def _set_up_sqlite(connection: sqlite3.Connection, _: Any) -> None:
    set_up_sqlite(connection)


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


def translated(engine: Engine) -> AbstractContextManager[None]:
    """Turn errors of the database into ours."""
    return failing.translated(engine.url.database or engine.url.render_as_string())
