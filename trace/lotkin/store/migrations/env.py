"""Run by alembic: migrate over the connection that `lotkin.store.connection.migrate` hands in."""

from __future__ import annotations

from alembic import context
from sqlmodel import SQLModel

import lotkin.store.beside.access_tables
import lotkin.store.beside.letter_tables
import lotkin.store.beside.station_tables
import lotkin.store.record.tables  # noqa: F401  # all fill the metadata

connection = context.config.attributes["connection"]
context.configure(connection=connection, target_metadata=SQLModel.metadata, render_as_batch=True)
with context.begin_transaction():
    context.run_migrations()
