"""The tables, as SQLModel classes.

Living rows are in `item`, `link`, `movement` and `fact`; rows that an amendment, a void or a late
report has superseded are in the `…_past` twins with the journal number that ended them. `stock`
sums what lies where now. All of these follow from `journal`.
"""

from __future__ import annotations

from sqlalchemy import BigInteger, Boolean, Column, Index, Integer, SmallInteger, Text
from sqlmodel import Field, SQLModel

__all__ = [
    "FactPast",
    "FactRow",
    "GraphChangeRow",
    "ItemPast",
    "ItemRow",
    "JournalRow",
    "LinkPast",
    "LinkRow",
    "MetaRow",
    "MovementPast",
    "MovementRow",
    "SpotRow",
    "StockRow",
]

# SQLite numbers rows by itself only for a key declared INTEGER; elsewhere it is a 64-bit number.
Key = BigInteger().with_variant(Integer(), "sqlite")


def _big(*, null: bool = False, index: bool = False) -> Column[int]:
    return Column(BigInteger, nullable=null, index=index)


def _text(*, index: bool = False) -> Column[str]:
    return Column(Text, nullable=False, index=index)


class JournalRow(SQLModel, table=True):
    """One event as it was recorded; rows are added and never changed."""

    __tablename__ = "journal"

    seq: int = Field(sa_column=Column(Key, primary_key=True, autoincrement=False))
    id: str = Field(sa_column=Column(Text, nullable=False, unique=True))
    kind: str = Field(sa_column=_text())
    at: int = Field(sa_column=_big())
    recorded_at: int = Field(sa_column=_big())
    station: str = Field(sa_column=_text())
    by: str = Field(sa_column=Column("by", Text, nullable=False))
    reported: bool = Field(sa_column=Column(Boolean, nullable=False))
    data: str = Field(sa_column=_text())
    sent: str = Field(sa_column=_text())
    plan: int = Field(sa_column=_big())
    breaches: str = Field(sa_column=_text())
    previous: str = Field(sa_column=_text())
    hash: str = Field(sa_column=_text())


class MetaRow(SQLModel, table=True):
    """What is said of the store as a whole, such as the head of the journal."""

    __tablename__ = "meta"

    key: str = Field(sa_column=Column(Text, primary_key=True))
    value: str = Field(sa_column=_text())


class ItemColumns(SQLModel):
    """Columns of an item besides its keys."""

    kind: str = Field(sa_type=Text)
    part: str = Field(sa_type=Text)
    quantity: int | None = Field(default=None, sa_type=BigInteger)
    unit: str = Field(sa_type=Text)
    made_at: int | None = Field(default=None, sa_type=BigInteger)
    started_at: int | None = Field(default=None, sa_type=BigInteger)
    event: int = Field(sa_type=BigInteger, index=True)
    step: str = Field(sa_type=Text)
    serial: str = Field(sa_type=Text)
    supplier: str = Field(sa_type=Text)
    supplier_lot: str = Field(sa_type=Text)
    due_at: int | None = Field(default=None, sa_type=BigInteger)
    station: str = Field(sa_type=Text)
    plan: int = Field(sa_type=BigInteger)
    since: int = Field(sa_type=BigInteger)


class ItemRow(ItemColumns, table=True):
    """A living item."""

    __tablename__ = "item"
    __table_args__ = (
        Index(
            "ix_item_supplier_lot",
            "supplier_lot",
            sqlite_where=Column("supplier_lot") != "",
            postgresql_where=Column("supplier_lot") != "",
        ),
    )

    id: int = Field(sa_column=Column(Key, primary_key=True, autoincrement=False))
    code: str = Field(sa_column=Column(Text, nullable=False, unique=True))


class ItemPast(ItemColumns, table=True):
    """An item as it read once."""

    __tablename__ = "item_past"

    id: int = Field(sa_column=Column(BigInteger, primary_key=True, autoincrement=False))
    until: int = Field(sa_column=Column(BigInteger, primary_key=True, autoincrement=False))
    code: str = Field(sa_column=_text(index=True))


class LinkRow(SQLModel, table=True):
    """A living link, kept in the order of its key so that a walk down reads one stretch."""

    __tablename__ = "link"
    __table_args__ = (
        Index("ix_link_child", "child", "parent"),
        Index("ix_link_event", "event"),
        {"sqlite_with_rowid": False},
    )

    parent: int = Field(sa_column=Column(BigInteger, primary_key=True, autoincrement=False))
    child: int = Field(sa_column=Column(BigInteger, primary_key=True, autoincrement=False))
    event: int = Field(sa_column=Column(BigInteger, primary_key=True, autoincrement=False))
    grp: int = Field(sa_column=Column(Integer, primary_key=True, autoincrement=False))
    mixing: int = Field(sa_column=Column(SmallInteger, nullable=False))
    quantity: int | None = Field(default=None, sa_column=_big(null=True))
    per: int = Field(sa_column=_big())
    position: str = Field(sa_column=_text())
    since: int = Field(sa_column=_big())


class LinkPast(SQLModel, table=True):
    """A link as it read once."""

    __tablename__ = "link_past"
    __table_args__ = (
        Index("ix_link_past_parent", "parent"),
        Index("ix_link_past_child", "child"),
    )

    number: int | None = Field(default=None, sa_column=Column(Key, primary_key=True))
    parent: int = Field(sa_column=_big())
    child: int = Field(sa_column=_big())
    event: int = Field(sa_column=_big())
    grp: int = Field(sa_column=Column(Integer, nullable=False))
    mixing: int = Field(sa_column=Column(SmallInteger, nullable=False))
    quantity: int | None = Field(default=None, sa_column=_big(null=True))
    per: int = Field(sa_column=_big())
    position: str = Field(sa_column=_text())
    since: int = Field(sa_column=_big())
    until: int = Field(sa_column=_big())


class GraphChangeRow(SQLModel, table=True):
    """An item that a correction changed, itself or the links into it."""

    __tablename__ = "graph_change"

    seq: int = Field(sa_column=Column(BigInteger, primary_key=True, autoincrement=False))
    item: int = Field(sa_column=Column(BigInteger, primary_key=True, autoincrement=False))


class SpotRow(SQLModel, table=True):
    """A place, and the carton or batch within which pieces are there."""

    __tablename__ = "spot"
    __table_args__ = (Index("ix_spot_name", "place", "within", unique=True),)

    id: int = Field(sa_column=Column(Key, primary_key=True, autoincrement=False))
    place: str = Field(sa_column=_text())
    within: str = Field(sa_column=_text(index=True))


class MovementColumns(SQLModel):
    """Columns of a movement besides its keys."""

    item: int = Field(sa_type=BigInteger, index=True)
    quantity: int = Field(sa_type=BigInteger)
    origin: int | None = Field(default=None, sa_type=BigInteger)
    destination: int = Field(sa_type=BigInteger)
    event: int = Field(sa_type=BigInteger, index=True)
    since: int = Field(sa_type=BigInteger)


class MovementRow(MovementColumns, table=True):
    """Pieces that went from one spot to another."""

    __tablename__ = "movement"

    number: int | None = Field(default=None, sa_column=Column(Key, primary_key=True))


class MovementPast(MovementColumns, table=True):
    """A movement as it read once."""

    __tablename__ = "movement_past"

    number: int | None = Field(default=None, sa_column=Column(Key, primary_key=True))
    until: int = Field(sa_column=_big())


class StockRow(SQLModel, table=True):
    """How much of an item is at a spot now; zeros have no row."""

    __tablename__ = "stock"
    __table_args__ = (Index("ix_stock_spot", "spot"), {"sqlite_with_rowid": False})

    item: int = Field(sa_column=Column(BigInteger, primary_key=True, autoincrement=False))
    spot: int = Field(sa_column=Column(BigInteger, primary_key=True, autoincrement=False))
    quantity: int = Field(sa_column=_big())


class FactRow(SQLModel, table=True):
    """A living fact."""

    __tablename__ = "fact"
    __table_args__ = (Index("ix_fact_event", "event"), {"sqlite_with_rowid": False})

    topic: str = Field(sa_column=Column(Text, primary_key=True))
    subject: str = Field(sa_column=Column(Text, primary_key=True))
    at: int = Field(sa_column=Column(BigInteger, primary_key=True, autoincrement=False))
    event: int = Field(sa_column=Column(BigInteger, primary_key=True, autoincrement=False))
    ordinal: int = Field(sa_column=Column(Integer, primary_key=True, autoincrement=False))
    value: str = Field(sa_column=_text())
    since: int = Field(sa_column=_big())


class FactPast(SQLModel, table=True):
    """A fact as it held once."""

    __tablename__ = "fact_past"

    number: int | None = Field(default=None, sa_column=Column(Key, primary_key=True))
    topic: str = Field(sa_column=_text())
    subject: str = Field(sa_column=_text(index=True))
    at: int = Field(sa_column=_big())
    event: int = Field(sa_column=_big())
    ordinal: int = Field(sa_column=Column(Integer, nullable=False))
    value: str = Field(sa_column=_text())
    since: int = Field(sa_column=_big())
    until: int = Field(sa_column=_big())
