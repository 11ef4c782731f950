"""Whether the tables of a store are those that this lotkin uses."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.store.connection.statements import Ask

if TYPE_CHECKING:
    from lotkin.store.connection.source import Source

__all__ = ["HEAD", "check_tables"]

HEAD = "0007"
"""Revision of the tables that this lotkin uses; a test compares it with the last migration."""

REVISION = Ask("SELECT version_num FROM alembic_version")


def check_tables(source: Source) -> None:
    """Check that a store has the tables of this lotkin.

    Raises:
        StoreOutdated: They are of another revision.
        StoreUnreadable: It is no store of lotkin's.
    """
    where = ""
    try:
        with source.reading() as database:
            where = database.where
            found = str(REVISION.first(database) or "")
    except Exception as error:
        if "no such table" in str(error) or "does not exist" in str(error):
            from lotkin.core.errors import StoreUnreadable  # noqa: PLC0415 - only where one is raised

            raise StoreUnreadable(where, "it holds no lotkin tables") from error
        raise
    if found != HEAD:
        from lotkin.core.errors import StoreOutdated  # noqa: PLC0415 - only where one is raised

        raise StoreOutdated(where, found, HEAD)
