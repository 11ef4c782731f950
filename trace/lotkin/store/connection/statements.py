"""Speaking SQL to the driver itself, past the layers that make each row an object.

Values are named in the text, as `:code`. Numbers of ours may be written into it.
"""

from __future__ import annotations

from contextlib import suppress
from functools import cached_property, lru_cache
from itertools import chain
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from lotkin.store.connection.database import Database

__all__ = ["Ask", "Change", "Lookup", "TextLookup", "beginning", "columns", "insert_rows", "living"]

CHUNK = 20_000
"""Numbers named in one statement at most."""

BLOCK = 1_000
"""Rows that a stream fetches at a time, unless it is told otherwise."""


def columns(names: Sequence[str], table: str = "") -> str:
    """List columns for a statement; `by` and `at` are words of SQL, so all are quoted."""
    before = f"{table}." if table else ""
    return ", ".join(f'{before}"{name}"' for name in names)


def beginning(text: str) -> str:
    """Write a pattern of all texts that begin so, for LIKE with `/` as its escape."""
    for special in "/%_":
        text = text.replace(special, f"/{special}")
    return f"{text}%"


def living(table: str, names: Sequence[str], as_of: int | None) -> str:
    """Give what stands for the rows of a table that held at a journal position; None for now."""
    if as_of is None:
        return table
    listed, at = columns(names), int(as_of)
    return (
        f"(SELECT {listed} FROM {table} WHERE since <= {at} UNION ALL "
        f"SELECT {listed} FROM {table}_past WHERE since <= {at} AND until > {at})"
    )


class _Named:
    """A statement with named values."""

    def __init__(self, text: str) -> None:
        self._text = text

    @cached_property
    def _for_psycopg(self) -> str:
        import re  # noqa: PLC0415 - SQLite needs none

        return re.sub(r":([a-z_]+[0-9]*)", r"%(\1)s", self._text.replace("%", "%%"))

    def _executed(self, database: Database, cursor: Any, values: dict[str, Any]) -> None:
        if database.is_sqlite:
            cursor.execute(self._text, values)
        elif values:
            cursor.execute(self._for_psycopg, values)
        else:
            cursor.execute(self._text)


class Ask(_Named):
    """A query; rows come as the driver makes them."""

    def rows(self, database: Database, **values: str | int) -> list[Any]:
        """Fetch the rows for some values."""
        if database.is_sqlite:
            return list(database.driver.execute(self._text, values).fetchall())
        cursor = database.driver.cursor()
        try:
            self._executed(database, cursor, values)
            return list(cursor.fetchall())
        finally:
            cursor.close()

    def first(self, database: Database, **values: str | int) -> Any:
        """Give the first value of the first row; None if there is no row."""
        rows = self.rows(database, **values)
        return rows[0][0] if rows else None

    def blocks(self, database: Database, size: int = BLOCK) -> Iterator[list[Any]]:
        """Yield all rows, some at a time; a server keeps the rest until then."""
        cursor = database.streaming_cursor()
        try:
            cursor.execute(self._text)
            while rows := cursor.fetchmany(size):
                yield rows
        finally:
            # whoever stops in between may have let go of the store already
            with suppress(Exception):
                cursor.close()


class Change(_Named):
    """A change of rows."""

    def rows(self, database: Database, **values: str | int) -> int:
        """Change the rows for some values; gives how many."""
        cursor = database.driver.cursor()
        try:
            self._executed(database, cursor, values)
            return int(cursor.rowcount)
        finally:
            cursor.close()

    def each(self, database: Database, several: Sequence[dict[str, Any]]) -> None:
        """Change rows for one set of values after the other."""
        if not several:
            return
        cursor = database.driver.cursor()
        try:
            cursor.executemany(self._text if database.is_sqlite else self._for_psycopg, several)
        finally:
            cursor.close()


class Lookup:
    """A query for many numbers, which stand where its text says `{numbers}`.

    They are keys of ours and are written into the statement, where there is no limit to how many
    there may be.
    """

    def __init__(self, database: Database, text: str) -> None:
        self._before, _, self._after = text.partition("{numbers}")
        self._driver = database.driver

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


class TextLookup:
    """A query for many texts, which stand where its text says `{texts}`."""

    def __init__(self, text: str) -> None:
        before, _, after = text.partition("{texts}")
        self._texts = [f"{before}{', '.join([mark] * SOME)}{after}" for mark in ("?", "%s")]

    def rows(self, database: Database, texts: Sequence[str]) -> list[Any]:
        """Fetch the rows for some texts."""
        rows: list[Any] = []
        cursor = database.driver.cursor()
        try:
            for start in range(0, len(texts), SOME):
                some = [*texts[start : start + SOME]]
                # always as many, so that the statement is prepared once
                cursor.execute(
                    self._texts[not database.is_sqlite], some + some[-1:] * (SOME - len(some))
                )
                rows += cursor.fetchall()
        finally:
            cursor.close()
        return rows


SOME = 250
"""Texts named in one statement."""


def insert_rows(
    database: Database, table: str, names: Sequence[str], rows: Sequence[Sequence[Any]]
) -> None:
    """Insert rows of values in the order of the columns."""
    mark = "?" if database.is_sqlite else "%s"
    cursor = database.driver.cursor()
    try:
        # one statement for several rows takes little more time than for one
        together = MOST_VALUES // len(names)
        whole = len(rows) - len(rows) % together
        if whole:
            text = _insert(table, tuple(names), mark, together)
            several = (rows[i : i + together] for i in range(0, whole, together))
            cursor.executemany(text, ([*chain.from_iterable(some)] for some in several))
        if whole < len(rows):
            cursor.executemany(_insert(table, tuple(names), mark, 1), rows[whole:])
    finally:
        cursor.close()


MOST_VALUES = 999
"""Values of one statement, as many as SQLite took before 3.32 (sqlite.org, Limits, 9)."""


@lru_cache
def _insert(table: str, names: tuple[str, ...], mark: str, rows: int) -> str:
    one = f"({', '.join([mark] * len(names))})"
    return f"INSERT INTO {table} ({columns(names)}) VALUES {', '.join([one] * rows)}"
