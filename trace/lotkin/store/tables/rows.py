"""The tables of the classes, as SQLAlchemy speaks of them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sqlalchemy import Table

__all__ = ["table_of"]


def table_of(model: Any) -> Table:
    """Give the table of a class; SQLModel has no type for it."""
    table: Table = model.__table__
    return table
