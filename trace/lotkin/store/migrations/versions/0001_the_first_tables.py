"""The first tables."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables of this step."""
    op.create_table(
        "fact",
        sa.Column("topic", sa.Text(), nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("at", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("event", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("ordinal", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("value", sa.Text(), nullable=False),
        sa.Column("since", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("topic", "subject", "at", "event", "ordinal"),
        sqlite_with_rowid=False,
    )
    with op.batch_alter_table("fact", schema=None) as batch_op:
        batch_op.create_index("ix_fact_event", ["event"], unique=False)

    op.create_table(
        "fact_past",
        sa.Column("number", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("topic", sa.Text(), nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.Column("event", sa.BigInteger(), nullable=False),
        sa.Column("ordinal", sa.Integer(), nullable=False),
        sa.Column("value", sa.Text(), nullable=False),
        sa.Column("since", sa.BigInteger(), nullable=False),
        sa.Column("until", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("number"),
    )
    with op.batch_alter_table("fact_past", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_fact_past_subject"), ["subject"], unique=False)

    op.create_table(
        "item",
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("part", sa.Text(), nullable=False),
        sa.Column("quantity", sa.BigInteger(), nullable=True),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("made_at", sa.BigInteger(), nullable=True),
        sa.Column("started_at", sa.BigInteger(), nullable=True),
        sa.Column("event", sa.BigInteger(), nullable=False),
        sa.Column("step", sa.Text(), nullable=False),
        sa.Column("serial", sa.Text(), nullable=False),
        sa.Column("supplier", sa.Text(), nullable=False),
        sa.Column("supplier_lot", sa.Text(), nullable=False),
        sa.Column("due_at", sa.BigInteger(), nullable=True),
        sa.Column("station", sa.Text(), nullable=False),
        sa.Column("plan", sa.BigInteger(), nullable=False),
        sa.Column("since", sa.BigInteger(), nullable=False),
        sa.Column(
            "id",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            autoincrement=False,
            nullable=False,
        ),
        sa.Column("code", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("code"),
    )
    with op.batch_alter_table("item", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_item_event"), ["event"], unique=False)
        batch_op.create_index(
            "ix_item_supplier_lot",
            ["supplier_lot"],
            unique=False,
            sqlite_where=sa.text("supplier_lot != ''"),
            postgresql_where=sa.text("supplier_lot != ''"),
        )

    op.create_table(
        "item_past",
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("part", sa.Text(), nullable=False),
        sa.Column("quantity", sa.BigInteger(), nullable=True),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("made_at", sa.BigInteger(), nullable=True),
        sa.Column("started_at", sa.BigInteger(), nullable=True),
        sa.Column("event", sa.BigInteger(), nullable=False),
        sa.Column("step", sa.Text(), nullable=False),
        sa.Column("serial", sa.Text(), nullable=False),
        sa.Column("supplier", sa.Text(), nullable=False),
        sa.Column("supplier_lot", sa.Text(), nullable=False),
        sa.Column("due_at", sa.BigInteger(), nullable=True),
        sa.Column("station", sa.Text(), nullable=False),
        sa.Column("plan", sa.BigInteger(), nullable=False),
        sa.Column("since", sa.BigInteger(), nullable=False),
        sa.Column("id", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("until", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", "until"),
    )
    with op.batch_alter_table("item_past", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_item_past_code"), ["code"], unique=False)
        batch_op.create_index(batch_op.f("ix_item_past_event"), ["event"], unique=False)

    op.create_table(
        "journal",
        sa.Column(
            "seq",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            autoincrement=False,
            nullable=False,
        ),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.Column("recorded_at", sa.BigInteger(), nullable=False),
        sa.Column("station", sa.Text(), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.Column("reported", sa.Boolean(), nullable=False),
        sa.Column("data", sa.Text(), nullable=False),
        sa.Column("sent", sa.Text(), nullable=False),
        sa.Column("plan", sa.BigInteger(), nullable=False),
        sa.Column("breaches", sa.Text(), nullable=False),
        sa.Column("previous", sa.Text(), nullable=False),
        sa.Column("hash", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("seq"),
        sa.UniqueConstraint("id"),
    )
    op.create_table(
        "link",
        sa.Column("parent", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("child", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("event", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("grp", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("mixing", sa.SmallInteger(), nullable=False),
        sa.Column("quantity", sa.BigInteger(), nullable=True),
        sa.Column("per", sa.BigInteger(), nullable=False),
        sa.Column("position", sa.Text(), nullable=False),
        sa.Column("since", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("parent", "child", "event", "grp"),
        sqlite_with_rowid=False,
    )
    with op.batch_alter_table("link", schema=None) as batch_op:
        batch_op.create_index("ix_link_child", ["child", "parent"], unique=False)
        batch_op.create_index("ix_link_event", ["event"], unique=False)

    op.create_table(
        "link_past",
        sa.Column("number", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("parent", sa.BigInteger(), nullable=False),
        sa.Column("child", sa.BigInteger(), nullable=False),
        sa.Column("event", sa.BigInteger(), nullable=False),
        sa.Column("grp", sa.Integer(), nullable=False),
        sa.Column("mixing", sa.SmallInteger(), nullable=False),
        sa.Column("quantity", sa.BigInteger(), nullable=True),
        sa.Column("per", sa.BigInteger(), nullable=False),
        sa.Column("position", sa.Text(), nullable=False),
        sa.Column("since", sa.BigInteger(), nullable=False),
        sa.Column("until", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("number"),
    )
    with op.batch_alter_table("link_past", schema=None) as batch_op:
        batch_op.create_index("ix_link_past_child", ["child"], unique=False)
        batch_op.create_index("ix_link_past_parent", ["parent"], unique=False)

    op.create_table(
        "meta",
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("value", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("key"),
    )
    op.create_table(
        "movement",
        sa.Column("item", sa.BigInteger(), nullable=False),
        sa.Column("quantity", sa.BigInteger(), nullable=False),
        sa.Column("origin", sa.BigInteger(), nullable=True),
        sa.Column("destination", sa.BigInteger(), nullable=False),
        sa.Column("event", sa.BigInteger(), nullable=False),
        sa.Column("since", sa.BigInteger(), nullable=False),
        sa.Column("number", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.PrimaryKeyConstraint("number"),
    )
    with op.batch_alter_table("movement", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_movement_event"), ["event"], unique=False)
        batch_op.create_index(batch_op.f("ix_movement_item"), ["item"], unique=False)

    op.create_table(
        "movement_past",
        sa.Column("item", sa.BigInteger(), nullable=False),
        sa.Column("quantity", sa.BigInteger(), nullable=False),
        sa.Column("origin", sa.BigInteger(), nullable=True),
        sa.Column("destination", sa.BigInteger(), nullable=False),
        sa.Column("event", sa.BigInteger(), nullable=False),
        sa.Column("since", sa.BigInteger(), nullable=False),
        sa.Column("number", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("until", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("number"),
    )
    with op.batch_alter_table("movement_past", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_movement_past_event"), ["event"], unique=False)
        batch_op.create_index(batch_op.f("ix_movement_past_item"), ["item"], unique=False)

    op.create_table(
        "spot",
        sa.Column(
            "id",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            autoincrement=False,
            nullable=False,
        ),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("within", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    with op.batch_alter_table("spot", schema=None) as batch_op:
        batch_op.create_index("ix_spot_name", ["place", "within"], unique=True)
        batch_op.create_index(batch_op.f("ix_spot_within"), ["within"], unique=False)

    op.create_table(
        "stock",
        sa.Column("item", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("spot", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("quantity", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("item", "spot"),
        sqlite_with_rowid=False,
    )
    with op.batch_alter_table("stock", schema=None) as batch_op:
        batch_op.create_index("ix_stock_spot", ["spot"], unique=False)


def downgrade() -> None:
    """Undo it."""
    with op.batch_alter_table("stock", schema=None) as batch_op:
        batch_op.drop_index("ix_stock_spot")

    op.drop_table("stock")
    with op.batch_alter_table("spot", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_spot_within"))
        batch_op.drop_index("ix_spot_name")

    op.drop_table("spot")
    with op.batch_alter_table("movement_past", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_movement_past_item"))
        batch_op.drop_index(batch_op.f("ix_movement_past_event"))

    op.drop_table("movement_past")
    with op.batch_alter_table("movement", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_movement_item"))
        batch_op.drop_index(batch_op.f("ix_movement_event"))

    op.drop_table("movement")
    op.drop_table("meta")
    with op.batch_alter_table("link_past", schema=None) as batch_op:
        batch_op.drop_index("ix_link_past_parent")
        batch_op.drop_index("ix_link_past_child")

    op.drop_table("link_past")
    with op.batch_alter_table("link", schema=None) as batch_op:
        batch_op.drop_index("ix_link_event")
        batch_op.drop_index("ix_link_child")

    op.drop_table("link")
    op.drop_table("journal")
    with op.batch_alter_table("item_past", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_item_past_event"))
        batch_op.drop_index(batch_op.f("ix_item_past_code"))

    op.drop_table("item_past")
    with op.batch_alter_table("item", schema=None) as batch_op:
        batch_op.drop_index(
            "ix_item_supplier_lot",
            sqlite_where=sa.text("supplier_lot != ''"),
            postgresql_where=sa.text("supplier_lot != ''"),
        )
        batch_op.drop_index(batch_op.f("ix_item_event"))

    op.drop_table("item")
    with op.batch_alter_table("fact_past", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_fact_past_subject"))

    op.drop_table("fact_past")
    with op.batch_alter_table("fact", schema=None) as batch_op:
        batch_op.drop_index("ix_fact_event")

    op.drop_table("fact")
