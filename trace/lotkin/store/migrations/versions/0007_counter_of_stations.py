"""Count the changes of a station's session, so that two who scan at once are told apart."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the counter; a session that is there was written once."""
    counter = sa.Column("counter", sa.BigInteger(), nullable=False, server_default="1")
    op.add_column("station_state", counter)


def downgrade() -> None:
    """Take the counter away again."""
    op.drop_column("station_state", "counter")
