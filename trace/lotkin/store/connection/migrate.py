"""Making the tables of a store, and bringing older ones up to date."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import inspect

from lotkin.core.errors import StoreOutdated
from lotkin.store.connection.engine import translated, writing
from lotkin.store.connection.revision import HEAD

if TYPE_CHECKING:
    from alembic.config import Config
    from sqlalchemy import Connection, Engine

__all__ = ["has_tables", "upgrade"]


def _config(connection: Connection) -> Config:
    # alembic is slow to load and needed only when tables are made
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parents[1] / "migrations"))
    config.attributes["connection"] = connection
    return config


def upgrade(engine: Engine) -> None:
    """Make the tables, or bring older ones to what this lotkin uses.

    Raises:
        StoreOutdated: They are of a newer lotkin.
    """
    from alembic import command

    if engine.dialect.name == "sqlite":
        with translated(engine), engine.connect() as connection:
            raw = connection.connection.dbapi_connection
            assert raw is not None
            raw.execute("PRAGMA journal_mode = WAL")
    with writing(engine) as connection:
        _check_not_newer(connection)
        command.upgrade(_config(connection), "head")


def _check_not_newer(connection: Connection) -> None:
    """Leave the tables of a newer lotkin alone.

    Raises:
        StoreOutdated: They are of one.
    """
    if not inspect(connection).has_table("alembic_version"):
        return
    found = str(
        connection.exec_driver_sql("SELECT version_num FROM alembic_version").scalar() or ""
    )
    if found > HEAD:
        raise StoreOutdated(connection.engine.url.database or "the database", found, HEAD)


def has_tables(engine: Engine) -> bool:
    """Tell whether a database holds tables of lotkin's already."""
    with translated(engine), engine.connect() as connection:
        return inspect(connection).has_table("alembic_version")
