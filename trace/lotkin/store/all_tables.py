"""All tables of a store, as the SQLModel classes describe them; there is no other description."""

from __future__ import annotations

from sqlmodel import SQLModel

from lotkin.store.beside import access_tables, letter_tables, station_tables
from lotkin.store.tables import tables

__all__ = ["METADATA", "RECORD_TABLES"]

MODULES = (tables, access_tables, letter_tables, station_tables)
"""Where the classes are; importing these fills the metadata."""

METADATA = SQLModel.metadata

RECORD_TABLES = tuple(getattr(tables, name).__tablename__ for name in tables.__all__)
"""The tables of the record, past rows included; what is kept beside it is left out."""
