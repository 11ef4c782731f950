"""Setting aside what is derived from the journal, and comparing it with what is derived anew."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sqlalchemy import delete, select, text

from lotkin.store.rows import (
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
    from sqlalchemy import Connection, Table

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


def set_aside(connection: Connection) -> None:
    """Copy every derived table to a temporary one and empty it."""
    for table in DERIVED:
        columns = ", ".join(_columns(table))
        connection.execute(text(f"DROP TABLE IF EXISTS {_aside(table)}"))
        connection.execute(
            text(f"CREATE TEMPORARY TABLE {_aside(table)} AS SELECT {columns} FROM {table.name}")
        )
        connection.execute(delete(table))


def _aside(table: Table) -> str:
    return f"aside_{table.name}"


def _columns(table: Table) -> list[str]:
    """List the columns that say something; running numbers do not."""
    return [f'"{column.name}"' for column in table.columns if column.name != "number"]


def difference(connection: Connection) -> str:
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
            row = connection.execute(text(query + " LIMIT 1")).first()
            if row is not None:
                return f"table {table.name} {what}: {_in_words(connection, row._asdict())}"
        counts = [
            connection.execute(text(f"SELECT COUNT(*) FROM {name}")).scalar_one()
            for name in (table.name, _aside(table))
        ]
        if counts[0] != counts[1]:
            return f"table {table.name} holds a row twice"
    return ""


def _in_words(connection: Connection, row: dict[str, object]) -> str:
    """Write a row with codes for the numbers of items."""
    shown = []
    for name, value in row.items():
        if name in ("item", "parent", "child") and isinstance(value, int):
            code = connection.execute(select(ITEM.c.code).where(ITEM.c.id == value)).scalar()
            shown.append(f"{name}={code or value}")
        elif value not in (None, ""):
            shown.append(f"{name}={value}")
    return " ".join(shown)
