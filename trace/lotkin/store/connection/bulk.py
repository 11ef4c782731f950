"""Writing many rows: by COPY where a server has it, else by INSERT."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from lotkin.store.connection.statements import columns, insert_rows
from lotkin.store.schema import COLUMNS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.store.connection.database import Database

__all__ = ["put_rows"]

WORTH_COPYING = 200
"""Rows from which COPY is quicker than INSERT."""


def put_rows(
    database: Database,
    table: str,
    rows: Sequence[Sequence[Any]],
    names: Sequence[str] | None = None,
) -> None:
    """Write rows; none is nothing to do.

    Args:
        database: An open transaction.
        table: Where to.
        rows: Values in the order of `names`.
        names: The columns; those of `COLUMNS` if left out.
    """
    if not rows:
        return
    names = COLUMNS[table] if names is None else names
    if database.is_sqlite or len(rows) < WORTH_COPYING:
        insert_rows(database, table, names, rows)
        return
    cursor = database.driver.cursor()
    try:
        with cursor.copy(f"COPY {table} ({columns(names)}) FROM STDIN") as copy:
            for row in rows:
                copy.write_row(row)
    finally:
        cursor.close()
