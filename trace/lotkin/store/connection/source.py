"""Where the transactions of a store come from."""

from __future__ import annotations

import sqlite3
from collections import deque
from contextlib import contextmanager
from functools import cached_property
from typing import TYPE_CHECKING, Protocol

from lotkin.store.connection import sqlite_settings
from lotkin.store.connection.database import Database, of_connection
from lotkin.store.connection.failing import translated
from lotkin.store.connection.sqlite_settings import set_up_sqlite

if TYPE_CHECKING:
    from collections.abc import Iterator
    from contextlib import AbstractContextManager
    from pathlib import Path

    from sqlalchemy import Engine

__all__ = ["BehindEngine", "Source", "SqliteFile"]


class Source(Protocol):
    """What gives transactions."""

    @property
    def engine(self) -> Engine:
        """SQLAlchemy's way to the same store, for what is written in its terms."""

    def reading(self) -> AbstractContextManager[Database]:
        """Give a transaction that sees one state of the store and changes nothing."""

    def writing(self) -> AbstractContextManager[Database]:
        """Give a transaction that is kept if the block ends well, else undone."""

    def close(self) -> None:
        """Let go of the store."""


class BehindEngine:
    """A store in memory or on a server, through SQLAlchemy's engine.

    Attributes:
        engine: The engine.
    """

    def __init__(self, engine: Engine) -> None:
        self.engine = engine

    @contextmanager
    def reading(self) -> Iterator[Database]:
        """Give a transaction that sees one state of the store and changes nothing."""
        from lotkin.store.connection.engine import reading  # noqa: PLC0415 - a file needs none of it

        with reading(self.engine) as connection, ending(of_connection(connection)) as database:
            yield database

    @contextmanager
    def writing(self) -> Iterator[Database]:
        """Give a transaction that is kept if the block ends well, else undone."""
        from lotkin.store.connection.engine import writing  # noqa: PLC0415 - a file needs none of it

        with writing(self.engine) as connection, ending(of_connection(connection)) as database:
            yield database

    def close(self) -> None:
        """Let go of the store."""
        self.engine.dispose()


class SqliteFile:
    """A store in a file, spoken to by the driver alone: SQLAlchemy takes long to load.

    Connections are kept for the next transaction, whichever thread it is of.
    """

    def __init__(self, path: Path, url: str) -> None:
        """Name the file.

        Raises:
            Unavailable: The URL is of a kind that lotkin cannot use.
        """
        if "://" in url and not url.startswith("sqlite:///"):
            from lotkin.core.errors import Unavailable  # noqa: PLC0415 - only where one is raised

            raise Unavailable(f"{url} is no SQLite file", record=url, hint="name a file")
        self._path, self._url = path, url
        self._idle: deque[sqlite3.Connection] = deque()

    @cached_property
    def engine(self) -> Engine:
        """SQLAlchemy's way to the same file, made when it is first needed."""
        from lotkin.store.connection.engine import open_engine  # noqa: PLC0415 - slow to load

        return open_engine(self._url)

    @contextmanager
    def reading(self) -> Iterator[Database]:
        """Give a transaction that sees one state of the store and changes nothing."""
        with self._begun("BEGIN") as connection, ending(self._database(connection)) as database:
            yield database

    @contextmanager
    def writing(self) -> Iterator[Database]:
        """Give a transaction that is kept if the block ends well, else undone."""
        with self._begun("BEGIN IMMEDIATE") as connection:
            with ending(self._database(connection)) as database:
                yield database
            connection.commit()

    def _database(self, connection: sqlite3.Connection) -> Database:
        return Database(connection, is_sqlite=True, where=str(self._path))

    @contextmanager
    def _begun(self, begin: str) -> Iterator[sqlite3.Connection]:
        with translated(str(self._path)):
            connection = self._taken()
            try:
                connection.execute(begin)
                yield connection
            finally:
                self._give_back(connection)

    def _give_back(self, connection: sqlite3.Connection) -> None:
        """Undo what was not kept, and hold the connection ready; one that fails is let go."""
        try:
            connection.rollback()
        except sqlite3.Error:
            connection.close()
        else:
            self._idle.append(connection)

    def _taken(self) -> sqlite3.Connection:
        try:
            return self._idle.pop()
        except IndexError:
            connection = sqlite3.connect(
                self._path, timeout=sqlite_settings.BUSY_MS / 1000, check_same_thread=False
            )
        set_up_sqlite(connection)
        return connection

    def close(self) -> None:
        """Let go of the file."""
        while self._idle:
            self._idle.pop().close()
        if "engine" in self.__dict__:
            self.engine.dispose()


@contextmanager
def ending(database: Database) -> Iterator[Database]:
    """Let a transaction be used inside a block only: what asks later would ask another state."""
    try:
        yield database
    finally:
        database.end()
