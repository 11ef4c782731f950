"""What corrections changed in the graph, so that copies of it know where they are old."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables of this step."""
    op.create_table(
        "graph_change",
        sa.Column("seq", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("item", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("seq", "item"),
    )


def downgrade() -> None:
    """Take the tables away again."""
    op.drop_table("graph_change")
