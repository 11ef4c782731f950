"""Order texts on a server as they are ordered everywhere else: by code point."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Give all texts the collation "C"; SQLite has no other."""
    connection = op.get_bind()
    if connection.dialect.name != "postgresql":
        return
    inspector = sa.inspect(connection)
    for table in inspector.get_table_names():
        if table == "alembic_version":
            continue
        changes = [
            f'ALTER COLUMN "{column["name"]}" TYPE TEXT COLLATE "C"'
            for column in inspector.get_columns(table)
            if isinstance(column["type"], sa.Text)
        ]
        if changes:
            op.execute(f'ALTER TABLE "{table}" {", ".join(changes)}')


def downgrade() -> None:
    """Leave it: the order of letters does not hinder an older lotkin."""
