"""Whose numbers the items have: deriving everything anew may number them otherwise."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sqlalchemy import select

from lotkin.store.rows import META

if TYPE_CHECKING:
    from sqlalchemy import Connection

__all__ = ["NUMBERING", "numbering_of"]

NUMBERING = "numbering"


def numbering_of(connection: Connection) -> str:
    """Give the mark of the numbers in a store; "" if it was never derived anew."""
    row = connection.execute(select(META.c.value).where(META.c.key == NUMBERING)).first()
    return str(row[0]) if row is not None else ""
