"""Setting aside what is derived from the journal, and comparing it with what is derived anew."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.store.connection.statements import Ask, Change, columns
from lotkin.store.schema import COLUMNS

if TYPE_CHECKING:
    from lotkin.store.connection.database import Database

__all__ = ["DERIVED", "difference", "set_aside"]

DERIVED = (
    "item",
    "item_past",
    "link",
    "link_past",
    "movement",
    "movement_past",
    "fact",
    "fact_past",
    "spot",
    "stock",
)
"""Tables that follow from the journal; compared without their running numbers."""

CODE_OF = Ask("SELECT code FROM item WHERE id = :number")


def set_aside(database: Database) -> None:
    """Copy every derived table to a temporary one and empty it."""
    for table in DERIVED:
        aside = _aside(table)
        for text in (
            f"DROP TABLE IF EXISTS {aside}",
            f"CREATE TEMPORARY TABLE {aside} AS SELECT {columns(COLUMNS[table])} FROM {table}",
            f"DELETE FROM {table}",
        ):
            Change(text).rows(database)


def _aside(table: str) -> str:
    return f"aside_{table}"


def difference(database: Database) -> str:
    """Name the first row in which a derived table differs from what was set aside.

    Returns:
        Words for people; "" if all tables are equal.
    """
    for table in DERIVED:
        names = COLUMNS[table]
        anew = f"SELECT {columns(names)} FROM {table}"
        aside = f"SELECT {columns(names)} FROM {_aside(table)}"
        for query, what in (
            (f"{aside} EXCEPT {anew}", "holds what does not follow from the journal"),
            (f"{anew} EXCEPT {aside}", "lacks what follows from the journal"),
        ):
            rows = Ask(f"{query} LIMIT 1").rows(database)
            if rows:
                row = dict(zip(names, rows[0], strict=True))
                return f"table {table} {what}: {_in_words(database, row)}"
        counts = [
            Ask(f"SELECT count(*) FROM {name}").first(database) for name in (table, _aside(table))
        ]
        if counts[0] != counts[1]:
            return f"table {table} holds a row twice"
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
