"""Run by alembic: migrate over the connection that `lotkin.store.migrate` hands in."""

from __future__ import annotations

from alembic import context
from sqlmodel import SQLModel

import lotkin.store.access_tables
import lotkin.store.notice_tables
import lotkin.store.station_tables
import lotkin.store.tables  # noqa: F401  # all fill the metadata

connection = context.config.attributes["connection"]
context.configure(connection=connection, target_metadata=SQLModel.metadata, render_as_batch=True)
with context.begin_transaction():
    context.run_migrations()
