"""Writing many rows: by COPY where a server has it, else by INSERT."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from lotkin.store.quick import Put, columns

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.store.database import Database

__all__ = ["put_rows"]

WORTH_COPYING = 200
"""Rows from which COPY is quicker than INSERT."""

PUT: dict[str, Put] = {}


def put_rows(database: Database, table: str, rows: Sequence[dict[str, Any]]) -> None:
    """Write rows that all have the same columns in the same order; none is nothing to do."""
    if not rows:
        return
    if database.is_sqlite or len(rows) < WORTH_COPYING:
        if table not in PUT:
            PUT[table] = Put(table)
        PUT[table].rows(database, rows)
        return
    cursor = database.driver.cursor()
    try:
        with cursor.copy(f"COPY {table} ({columns(list(rows[0]))}) FROM STDIN") as copy:
            for row in rows:
                copy.write_row([*row.values()])
    finally:
        cursor.close()
