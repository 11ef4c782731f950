"""Setting aside what is derived from the journal, and comparing it with what is derived anew."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.store.connection.statements import Ask, Change
from lotkin.store.record.rows import (
    FACT,
    FACT_PAST,
    ITEM,
    ITEM_PAST,
    LINK,
    LINK_PAST,
    MOVEMENT,
    MOVEMENT_PAST,
    SPOT,
    STOCK,
)

if TYPE_CHECKING:
    from sqlalchemy import Table

    from lotkin.store.connection.database import Database

__all__ = ["DERIVED", "difference", "set_aside"]

DERIVED = (
    ITEM,
    ITEM_PAST,
    LINK,
    LINK_PAST,
    MOVEMENT,
    MOVEMENT_PAST,
    FACT,
    FACT_PAST,
    SPOT,
    STOCK,
)
"""Tables that follow from the journal."""

CODE_OF = Ask("SELECT code FROM item WHERE id = :number")


def set_aside(database: Database) -> None:
    """Copy every derived table to a temporary one and empty it."""
    for table in DERIVED:
        columns = ", ".join(_columns(table))
        aside = _aside(table)
        for text in (
            f"DROP TABLE IF EXISTS {aside}",
            f"CREATE TEMPORARY TABLE {aside} AS SELECT {columns} FROM {table.name}",
            f"DELETE FROM {table.name}",
        ):
            Change(text).rows(database)


def _aside(table: Table) -> str:
    return f"aside_{table.name}"


def _names(table: Table) -> list[str]:
    """List the columns that say something; running numbers do not."""
    return [column.name for column in table.columns if column.name != "number"]


def _columns(table: Table) -> list[str]:
    return [f'"{name}"' for name in _names(table)]


def difference(database: Database) -> str:
    """Name the first row in which a derived table differs from what was set aside.

    Returns:
        Words for people; "" if all tables are equal.
    """
    for table in DERIVED:
        columns = ", ".join(_columns(table))
        anew = f"SELECT {columns} FROM {table.name}"
        aside = f"SELECT {columns} FROM {_aside(table)}"
        for query, what in (
            (f"{aside} EXCEPT {anew}", "holds what does not follow from the journal"),
            (f"{anew} EXCEPT {aside}", "lacks what follows from the journal"),
        ):
            rows = Ask(f"{query} LIMIT 1").rows(database)
            if rows:
                row = dict(zip(_names(table), rows[0], strict=True))
                return f"table {table.name} {what}: {_in_words(database, row)}"
        counts = [
            Ask(f"SELECT count(*) FROM {name}").first(database)
            for name in (table.name, _aside(table))
        ]
        if counts[0] != counts[1]:
            return f"table {table.name} holds a row twice"
    return ""


def _in_words(database: Database, row: dict[str, object]) -> str:
    """Write a row with codes for the numbers of items."""
    shown = []
    for name, value in row.items():
        if name in ("item", "parent", "child") and isinstance(value, int):
            code = CODE_OF.first(database, number=value)
            shown.append(f"{name}={code or value}")
        elif value not in (None, ""):
            shown.append(f"{name}={value}")
    return " ".join(shown)
