"""Copying a whole store into another, of whatever kind, and comparing both row by row."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING, Any

from sqlalchemy import Table, select, text

from lotkin.store.all_tables import METADATA
from lotkin.store.connection.bulk import put_rows
from lotkin.store.connection.database import of_connection
from lotkin.store.connection.engine import reading, writing

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sqlalchemy import Connection, Engine

__all__ = ["copy_tables", "difference_between"]

BLOCK = 10_000


def _tables() -> list[Table]:
    return list(METADATA.sorted_tables)


def _rows(connection: Connection, table: Table) -> Iterator[list[Any]]:
    """Yield the rows of a table in order of its key, some at a time."""
    query = select(table).order_by(*table.primary_key.columns)
    rows = connection.execution_options(yield_per=BLOCK).execute(query)
    yield from (list(part) for part in rows.partitions())


def copy_tables(source: Engine, target: Engine) -> int:
    """Copy all rows of all tables into a store that is empty, in one transaction.

    Returns:
        How many rows.
    """
    count = 0
    with reading(source) as here, writing(target) as there:
        for table in _tables():
            for rows in _rows(here, table):
                count += len(rows)
                names = [column.name for column in table.columns]
                put_rows(of_connection(there), table.name, rows, names)
            _number_on(there, table)
    return count


def _number_on(connection: Connection, table: Table) -> None:
    """Let new rows be numbered on from the highest that was copied."""
    if connection.dialect.name != "postgresql" or "number" not in table.columns:
        return
    sequence = f"pg_get_serial_sequence('{table.name}', 'number')"
    highest = f"(SELECT max(number) FROM {table.name})"
    connection.execute(text(f"SELECT setval({sequence}, {highest}) WHERE {highest} IS NOT NULL"))


def difference_between(one: Engine, other: Engine) -> str:
    """Name the first table that does not hold the same in both; "" if all do."""
    with reading(one) as here, reading(other) as there:
        for table in _tables():
            if _digest(here, table) != _digest(there, table):
                return table.name
    return ""


def _digest(connection: Connection, table: Table) -> str:
    digest = hashlib.sha256()
    for rows in _rows(connection, table):
        for row in rows:
            digest.update(repr(tuple(row)).encode("utf-8", "surrogateescape"))
    return digest.hexdigest()
