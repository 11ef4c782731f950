"""Making a store, and telling whether its tables are those that this lotkin uses."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import inspect, text
from sqlalchemy.exc import DatabaseError

from lotkin.core.errors import StoreOutdated, StoreUnreadable
from lotkin.store.engine import translated, writing

if TYPE_CHECKING:
    from alembic.config import Config
    from sqlalchemy import Connection, Engine

__all__ = ["HEAD", "check_tables", "has_tables", "upgrade"]

HEAD = "0006"
"""Revision of the tables that this lotkin uses; a test compares it with the last migration."""


def _config(connection: Connection) -> Config:
    # alembic is slow to load and needed only when tables are made
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent / "migrations"))
    config.attributes["connection"] = connection
    return config


def upgrade(engine: Engine) -> None:
    """Make the tables, or bring older ones to what this lotkin uses."""
    from alembic import command

    if engine.dialect.name == "sqlite":
        with translated(engine), engine.connect() as connection:
            raw = connection.connection.dbapi_connection
            assert raw is not None
            raw.execute("PRAGMA journal_mode = WAL")
    with writing(engine) as connection:
        command.upgrade(_config(connection), "head")


def check_tables(engine: Engine) -> None:
    """Check that a store has the tables of this lotkin.

    Raises:
        StoreOutdated: They are of another revision.
        StoreUnreadable: It is no store of lotkin's.
    """
    where = engine.url.database or str(engine.url)
    try:
        with engine.connect() as connection:
            rows = connection.execute(text("SELECT version_num FROM alembic_version")).all()
    except DatabaseError as error:
        reason = str(error.orig)
        if "no such table" in reason or "does not exist" in reason:
            reason = "it holds no lotkin tables"
        raise StoreUnreadable(where, reason) from error
    found = str(rows[0][0]) if rows else ""
    if found != HEAD:
        raise StoreOutdated(where, found, HEAD)


def has_tables(engine: Engine) -> bool:
    """Tell whether a database holds tables of lotkin's already."""
    with translated(engine), engine.connect() as connection:
        return inspect(connection).has_table("alembic_version")
