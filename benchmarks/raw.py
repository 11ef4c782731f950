"""The plainest way of doing the same: sqlite3 by hand, for comparison."""

from __future__ import annotations

import sqlite3
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["RawJournal", "open_raw", "reached_codes", "reached_ids", "reached_rows"]

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


class RawJournal:
    """Writes the rows of a received lot by hand: journal, item, movement, stock."""

    def __init__(self, path: Path) -> None:
        self.connection = sqlite3.connect(path, isolation_level=None)
        run = self.connection.execute
        run("PRAGMA journal_mode = WAL")
        run("PRAGMA synchronous = FULL")
        run("CREATE TABLE journal (seq INTEGER PRIMARY KEY, id TEXT UNIQUE, data TEXT, hash TEXT)")
        run("CREATE TABLE item (id INTEGER PRIMARY KEY, code TEXT UNIQUE, kind TEXT, part TEXT)")
        run("CREATE TABLE movement (item INTEGER, quantity INTEGER, destination INTEGER)")
        run("CREATE TABLE stock (item INTEGER, spot INTEGER, quantity INTEGER)")

    def write(self, number: int, data: str) -> None:
        """Write the rows of one event."""
        run = self.connection.execute
        run("INSERT INTO journal VALUES (?, ?, ?, ?)", (number, f"id-{number}", data, "0" * 64))
        run("INSERT INTO item VALUES (?, ?, 'purchased-lot', 'PIN')", (number, f"LOT-{number}"))
        run("INSERT INTO movement VALUES (?, 1000000, 1)", (number,))
        run("INSERT INTO stock VALUES (?, 1, 1000000)", (number,))
