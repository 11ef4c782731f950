"""Counting what SQLite is told, whichever layer speaks to it."""

from __future__ import annotations

import sqlite3
import sqlite3.dbapi2
from collections import Counter
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["Told", "counting"]

CONTROL = ("BEGIN", "COMMIT", "ROLLBACK", "SAVEPOINT", "RELEASE", "PRAGMA")


class Told:
    """What SQLite was told, by all connections that were opened since.

    Attributes:
        texts: The statements, transaction control included, pragmas left out.
    """

    def __init__(self) -> None:
        self.texts: list[str] = []

    def hear(self, text: str) -> None:
        """Take one statement down."""
        if not text.startswith("PRAGMA"):
            self.texts.append(text.strip())

    def clear(self) -> None:
        """Begin anew."""
        self.texts.clear()

    @property
    def statements(self) -> int:
        """How many statements asked for or changed rows."""
        return sum(not text.upper().startswith(CONTROL) for text in self.texts)

    @property
    def changes(self) -> int:
        """How many of them changed rows."""
        return sum(text.upper().startswith(("INSERT", "UPDATE", "DELETE")) for text in self.texts)

    @property
    def begun(self) -> Counter[str]:
        """How many transactions began: "write" ones, which wait for each other, and "read"."""
        return Counter(
            "write" if "IMMEDIATE" in text.upper() else "read"
            for text in self.texts
            if text.upper().startswith("BEGIN")
        )


@contextmanager
def counting() -> Iterator[Told]:
    """Count what all connections are told that are opened inside the block."""
    told = Told()
    usual = sqlite3.connect

    def connect(*given: Any, **named: Any) -> sqlite3.Connection:
        connection: sqlite3.Connection = usual(*given, **named)
        connection.set_trace_callback(told.hear)
        return connection

    modules: tuple[Any, ...] = (sqlite3, sqlite3.dbapi2)
    for module in modules:
        module.connect = connect
    try:
        yield told
    finally:
        for module in modules:
            module.connect = usual
