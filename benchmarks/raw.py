"""The plainest way of doing the same: sqlite3 by hand, for comparison."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from typing import TYPE_CHECKING, Any

from lotkin.wiring import create_store

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

__all__ = ["SameRows", "open_raw", "reached_codes", "reached_ids", "reached_rows"]

FOUND = (
    "WITH RECURSIVE found(id) AS (SELECT id FROM item WHERE code = ? UNION "
    "SELECT child FROM link JOIN found ON parent = found.id) "
)


def open_raw(path: Path) -> sqlite3.Connection:
    """Open a store's file without lotkin."""
    return sqlite3.connect(path)


def reached_ids(raw: sqlite3.Connection, code: str) -> list[Any]:
    """Find the numbers of what is reached, and nothing else."""
    return raw.execute(FOUND + "SELECT id FROM found", (code,)).fetchall()


def reached_codes(raw: sqlite3.Connection, code: str) -> list[Any]:
    """Find the codes of what is reached."""
    query = FOUND + "SELECT item.id, item.code FROM found JOIN item ON item.id = found.id"
    return raw.execute(query, (code,)).fetchall()


def reached_rows(raw: sqlite3.Connection, code: str) -> list[Any]:
    """Find what an answer says: the items, and where each is."""
    query = FOUND + (
        "SELECT item.id, item.code, item.kind, item.part, item.quantity, item.unit, item.serial, "
        "spot.place, spot.within, stock.quantity FROM found JOIN item ON item.id = found.id "
        "LEFT JOIN stock ON stock.item = item.id LEFT JOIN spot ON spot.id = stock.spot"
    )
    return raw.execute(query, (code,)).fetchall()


class SameRows:
    """Writes the rows that lotkin wrote for some events, into the same tables, by sqlite3 alone.

    The rows are there already: nothing is checked, derived, spelt or hashed.
    """

    def __init__(self, written: Path, path: Path) -> None:
        """Take the rows of one store, and make an empty one for them."""
        create_store(str(path)).close()
        self.connection = sqlite3.connect(path, isolation_level=None)
        self.connection.execute("PRAGMA synchronous = FULL")
        source = sqlite3.connect(written)
        for table in ("spot", "meta"):
            rows = source.execute(f"SELECT * FROM {table}").fetchall()
            self.connection.executemany(_insert(table, rows[0]), rows)
        self._rows: dict[int, list[tuple[str, Any]]] = defaultdict(list)
        for table, event in EVENT_OF.items():
            for seq, *row in source.execute(f"SELECT {event}, {table}.* FROM {table}"):
                self._rows[seq].append((_insert(table, row), row))
        source.close()

    def write(self, first: int, last: int) -> None:
        """Write the rows of some events in one transaction."""
        run = self.connection.execute
        run("BEGIN IMMEDIATE")
        for seq in range(first, last + 1):
            for statement, row in self._rows[seq]:
                run(statement, row)
        run("COMMIT")


EVENT_OF = {
    "journal": "seq",
    "item": "event",
    "movement": "event",
    "stock": "(SELECT event FROM item WHERE item.id = stock.item)",
}
"""Tables that hold something of a received lot, and the event that it is of."""


def _insert(table: str, row: Sequence[Any]) -> str:
    return f"INSERT INTO {table} VALUES ({', '.join('?' * len(row))})"
