"""Who may come in to the service."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables of this step."""
    op.create_table(
        "credential",
        sa.Column("person", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("hash", sa.Text(), nullable=False),
        sa.Column("once", sa.Boolean(), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("person", "kind"),
    )
    op.create_table(
        "sign_in",
        sa.Column("token", sa.Text(), nullable=False),
        sa.Column("person", sa.Text(), nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("csrf", sa.Text(), nullable=False),
        sa.Column("began_at", sa.BigInteger(), nullable=False),
        sa.Column("seen_at", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("token"),
    )
    op.create_index("ix_sign_in_person", "sign_in", ["person"])
    op.create_table(
        "token",
        sa.Column("token", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("about", sa.Text(), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.Column("used_at", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("token"),
    )


def downgrade() -> None:
    """Take the tables away again."""
    op.drop_table("token")
    op.drop_table("sign_in")
    op.drop_table("credential")
