"""What other programs are told."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables of this step."""
    op.create_table(
        "notice",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("about", sa.Text(), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("made_at", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("ix_notice_case", "notice", ["kind", "about"])
    op.create_table(
        "notice_delivery",
        sa.Column("notice", sa.Text(), nullable=False),
        sa.Column("hook", sa.Text(), nullable=False),
        sa.Column("tries", sa.Integer(), nullable=False),
        sa.Column("next_at", sa.BigInteger(), nullable=True),
        sa.Column("tried_at", sa.BigInteger(), nullable=True),
        sa.Column("arrived_at", sa.BigInteger(), nullable=True),
        sa.Column("answer", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("notice", "hook"),
    )
    op.create_index("ix_notice_delivery_next", "notice_delivery", ["next_at"])
    op.create_table(
        "told_member",
        sa.Column("about", sa.Text(), nullable=False),
        sa.Column("customer", sa.Text(), nullable=False),
        sa.Column("item", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("about", "customer", "item"),
    )


def downgrade() -> None:
    """Take the tables away again."""
    op.drop_table("told_member")
    op.drop_table("notice_delivery")
    op.drop_table("notice")
