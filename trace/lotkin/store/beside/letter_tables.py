"""What other programs are told, and whether it arrived; none of it is evidence."""

from __future__ import annotations

from sqlalchemy import BigInteger, Column, Index, Integer, Text
from sqlmodel import Field, SQLModel

__all__ = ["DeliveryRow", "NoticeRow", "ToldMemberRow"]


class NoticeRow(SQLModel, table=True):
    """Something to tell, as it is sent."""

    __tablename__ = "notice"
    __table_args__ = (Index("ix_notice_case", "kind", "about"),)

    id: str = Field(sa_column=Column(Text, primary_key=True))
    kind: str = Field(sa_column=Column(Text, nullable=False))
    about: str = Field(sa_column=Column(Text, nullable=False))
    body: str = Field(sa_column=Column(Text, nullable=False))
    made_at: int = Field(sa_column=Column(BigInteger, nullable=False))


class DeliveryRow(SQLModel, table=True):
    """A notice for a hook: on its way while `next_at` is there, else arrived or given up."""

    __tablename__ = "notice_delivery"
    __table_args__ = (Index("ix_notice_delivery_next", "next_at"),)

    notice: str = Field(sa_column=Column(Text, primary_key=True))
    hook: str = Field(sa_column=Column(Text, primary_key=True))
    tries: int = Field(sa_column=Column(Integer, nullable=False))
    next_at: int | None = Field(default=None, sa_column=Column(BigInteger, nullable=True))
    tried_at: int | None = Field(default=None, sa_column=Column(BigInteger, nullable=True))
    arrived_at: int | None = Field(default=None, sa_column=Column(BigInteger, nullable=True))
    answer: str = Field(sa_column=Column(Text, nullable=False))


class ToldMemberRow(SQLModel, table=True):
    """A member of a case at a customer, of which a notice was made."""

    __tablename__ = "told_member"

    about: str = Field(sa_column=Column(Text, primary_key=True))
    customer: str = Field(sa_column=Column(Text, primary_key=True))
    item: str = Field(sa_column=Column(Text, primary_key=True))
