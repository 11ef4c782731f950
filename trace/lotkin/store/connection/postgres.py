"""What is special about PostgreSQL: transactions, and one writer at a time."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import create_engine, event, make_url
from sqlalchemy.exc import ArgumentError

from lotkin.core.errors import Unavailable

if TYPE_CHECKING:
    from sqlalchemy import Connection, Engine

__all__ = ["open_postgres"]

WAIT_MS = 20_000
ONE_WRITER = 0x6C6F746B696E
"""Number of the advisory lock that whoever writes holds until the end of the transaction."""


def open_postgres(url: str) -> Engine:
    """Make an engine; nothing is opened yet.

    Raises:
        Unavailable: The URL is none.
    """
    try:
        wanted = make_url(url).set(drivername="postgresql+psycopg")
    except ArgumentError as error:
        raise Unavailable(
            "this is no URL of a store",
            hint="write postgresql://user@host/database; the password goes into ~/.pgpass",
        ) from error
    engine = create_engine(
        wanted,
        pool_pre_ping=True,
        pool_size=20,
        max_overflow=20,
        connect_args={"connect_timeout": 10, "application_name": "lotkin"},
    )
    event.listen(engine, "connect", _set_up)
    event.listen(engine, "begin", _begin)
    return engine


def _set_up(connection: Any, _: Any) -> None:
    """Let texts hold anything that somebody may scan.

    PostgreSQL has no NUL in a text. It is written as U+FFFD, the mark of what cannot be shown: what
    a scanner sent is kept, and what nobody can have stored is not found instead of refused.
    """
    from psycopg.types.string import StrDumperUnknown  # noqa: PLC0415 - loaded by need only

    class Dumper(StrDumperUnknown):
        def dump(self, obj: str) -> Any:
            return super().dump(obj.replace("\0", "\ufffd"))

    connection.adapters.register_dumper(str, Dumper)


def _begin(connection: Connection) -> None:
    """Let a reader see one state, and a writer be alone.

    The lock comes first: a writer sees all that the one before it has done. It is let go at the end
    of the transaction by itself.
    """
    if not connection.get_execution_options().get("writes", False):
        connection.exec_driver_sql("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
        return
    connection.exec_driver_sql(f"SET LOCAL lock_timeout = {WAIT_MS}")
    connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({ONE_WRITER})")
