"""One transaction on a store, as the driver gives it."""

from __future__ import annotations

from itertools import count
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sqlalchemy import Connection

__all__ = ["Database", "of_connection"]


NUMBERS = count(1)
"""Cursors of a server have names of their own."""


class Database:
    """A connection of the driver (PEP 249) on which a transaction is open.

    Attributes:
        driver: The connection.
        is_sqlite: Whether it is of SQLite; else it is of PostgreSQL.
        where: How messages name the store.
    """

    __slots__ = ("driver", "is_sqlite", "where")

    def __init__(self, driver: Any, *, is_sqlite: bool, where: str) -> None:
        self.driver, self.is_sqlite, self.where = driver, is_sqlite, where

    def end(self) -> None:
        """Let go of the connection: it may be somebody else's from now on."""
        self.driver = None

    def streaming_cursor(self) -> Any:
        """Give a cursor that does not take all rows at once."""
        if self.is_sqlite:
            return self.driver.cursor()
        return self.driver.cursor(name=f"lotkin_{next(NUMBERS)}")


def of_connection(connection: Connection) -> Database:
    """Give the transaction that is open on a connection of SQLAlchemy's."""
    url = connection.engine.url
    where = url.database or url.render_as_string()
    driver = connection.connection.dbapi_connection
    is_sqlite = connection.dialect.name == "sqlite"
    return Database(driver, is_sqlite=is_sqlite, where=where)
