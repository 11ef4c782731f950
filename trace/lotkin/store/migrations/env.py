"""Run by alembic: migrate over the connection that `lotkin.store.connection.migrate` hands in."""

from __future__ import annotations

from alembic import context

from lotkin.store.all_tables import METADATA

connection = context.config.attributes["connection"]
context.configure(connection=connection, target_metadata=METADATA, render_as_batch=True)
with context.begin_transaction():
    context.run_migrations()
