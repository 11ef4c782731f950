"""What the service remembers of its stations."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables of this step."""
    op.create_table(
        "station_state",
        sa.Column("station", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("station"),
    )
    op.create_table(
        "station_scan",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("station", sa.Text(), nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("person", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.Column("received_at", sa.BigInteger(), nullable=False),
        sa.Column("late", sa.Boolean(), nullable=False),
        sa.Column("tone", sa.Text(), nullable=False),
        sa.Column("say", sa.Text(), nullable=False),
        sa.Column("ask", sa.Text(), nullable=False),
        sa.Column("needs_look", sa.Boolean(), nullable=False),
        sa.Column("seen_by", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("ix_station_scan_open", "station_scan", ["needs_look", "received_at"])


def downgrade() -> None:
    """Take the tables away again."""
    op.drop_table("station_scan")
    op.drop_table("station_state")
