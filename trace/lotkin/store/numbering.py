"""Whose numbers the items have: deriving everything anew may number them otherwise."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.store.quick import Ask

if TYPE_CHECKING:
    from lotkin.store.database import Database

__all__ = ["NUMBERING", "numbering_of"]

NUMBERING = "numbering"
NOTED = Ask("SELECT value FROM meta WHERE key = :key")


def numbering_of(database: Database) -> str:
    """Give the mark of the numbers in a store; "" if it was never derived anew."""
    return str(NOTED.first(database, key=NUMBERING) or "")
