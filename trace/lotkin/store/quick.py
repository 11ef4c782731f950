"""Fetching many rows as plain tuples, past the layers that make each row an object."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sqlalchemy import ColumnElement, Connection, Select

__all__ = ["Ask", "Lookup"]


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


class Ask:
    """A query with named values, its text made once a dialect; rows come as the driver makes them.

    Asking through SQLAlchemy takes a tenth of a millisecond, most of it to find the text again.
    """

    def __init__(self, statement: Select[Any]) -> None:
        self._statement = statement
        self._texts: dict[str, tuple[str, tuple[str, ...] | None, dict[str, Any]]] = {}

    def rows(self, connection: Connection, **values: str | int) -> list[Any]:
        """Fetch the rows for some values."""
        dialect = connection.dialect
        known = self._texts.get(dialect.name)
        if known is None:
            compiled = self._statement.compile(dialect=dialect)
            positions = compiled.positiontup if compiled.positional else None
            constants = {k: v for k, v in compiled.params.items() if v is not None}
            known = (str(compiled), None if positions is None else tuple(positions), constants)
            self._texts[dialect.name] = known
        text, names, constants = known
        given = constants | values
        cursor = connection.connection.cursor()
        try:
            cursor.execute(text, given if names is None else [given[name] for name in names])
            return list(cursor.fetchall())
        finally:
            cursor.close()


MARK = 987_654_321_987_654_321
"""Stands for the numbers in the text of a statement."""
