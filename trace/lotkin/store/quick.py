"""Fetching many rows as plain tuples, past the layers that make each row an object."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import insert

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sqlalchemy import ColumnElement, Connection, Select, Table, Update
    from sqlalchemy.engine.interfaces import DBAPICursor

__all__ = ["Ask", "Change", "Lookup", "Put"]


class Lookup:
    """A query in which a column is one of many numbers; rows come as the driver makes them.

    The numbers are ours (keys of rows) and are written into the text of the statement, where
    there is no limit to how many there may be. The text is made once.
    """

    def __init__(
        self, connection: Connection, statement: Select[Any], column: ColumnElement[int]
    ) -> None:
        marked = statement.where(column.in_([MARK])).compile(
            dialect=connection.dialect, compile_kwargs={"literal_binds": True}
        )
        self._before, _, self._after = str(marked).partition(str(MARK))
        self._driver = connection.connection

    def rows(self, numbers: Sequence[int]) -> list[Any]:
        """Fetch the rows for some numbers."""
        rows: list[Any] = []
        cursor = self._driver.cursor()
        try:
            for start in range(0, len(numbers), CHUNK):
                listed = str([*numbers[start : start + CHUNK]])[1:-1]
                cursor.execute(f"{self._before}{listed}{self._after}")
                rows += cursor.fetchall()
        finally:
            cursor.close()
        return rows


CHUNK = 20_000
"""Numbers named in one statement at most."""


class _Named:
    """A statement with named values, its text made once a dialect.

    Going through SQLAlchemy takes a tenth of a millisecond, most of it to find the text again.
    """

    def __init__(self, statement: Select[Any] | Update) -> None:
        self._statement = statement
        self._texts: dict[str, tuple[str, tuple[str, ...] | None, dict[str, Any]]] = {}

    def _executed(self, cursor: DBAPICursor, connection: Connection, given: dict[str, Any]) -> None:
        dialect = connection.dialect
        known = self._texts.get(dialect.name)
        if known is None:
            compiled = self._statement.compile(dialect=dialect)
            positions = compiled.positiontup if compiled.positional else None
            constants = {k: v for k, v in compiled.params.items() if v is not None}
            known = (str(compiled), None if positions is None else tuple(positions), constants)
            self._texts[dialect.name] = known
        text, names, constants = known
        values = constants | given
        cursor.execute(text, values if names is None else [values[name] for name in names])


class Ask(_Named):
    """A query with named values; rows come as the driver makes them."""

    def rows(self, connection: Connection, **values: str | int) -> list[Any]:
        """Fetch the rows for some values."""
        cursor = connection.connection.cursor()
        try:
            self._executed(cursor, connection, values)
            return list(cursor.fetchall())
        finally:
            cursor.close()


class Change(_Named):
    """A change of rows with named values."""

    def rows(self, connection: Connection, **values: str | int) -> int:
        """Change the rows for some values; gives how many."""
        cursor = connection.connection.cursor()
        try:
            self._executed(cursor, connection, values)
            return int(cursor.rowcount)
        finally:
            cursor.close()


class Put:
    """Rows for a table, its text made once a dialect and choice of columns; as quick as `Ask`."""

    def __init__(self, table: Table) -> None:
        self._table = table
        self._texts: dict[tuple[str, tuple[str, ...]], tuple[str, tuple[str, ...] | None]] = {}

    def rows(self, connection: Connection, rows: Sequence[dict[str, Any]]) -> None:
        """Insert rows that all have the same columns."""
        names = tuple(rows[0])
        dialect = connection.dialect
        known = self._texts.get((dialect.name, names))
        if known is None:
            compiled = (
                insert(self._table).inline().compile(dialect=dialect, column_keys=list(names))
            )
            positions = compiled.positiontup if compiled.positional else None
            known = (str(compiled), None if positions is None else tuple(positions))
            self._texts[dialect.name, names] = known
        text, order = known
        cursor = connection.connection.cursor()
        try:
            if order is None:
                cursor.executemany(text, rows)
            elif len(rows) == 1:
                cursor.execute(text, [rows[0][name] for name in order])
            else:
                cursor.executemany(text, [[row[name] for name in order] for row in rows])
        finally:
            cursor.close()


MARK = 987_654_321_987_654_321
"""Stands for the numbers in the text of a statement."""
