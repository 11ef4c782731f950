"""Who may come in to the service, and how; none of it is evidence, and no secret is in clear."""

from __future__ import annotations

from sqlalchemy import BigInteger, Boolean, Column, Text
from sqlmodel import Field, SQLModel

__all__ = ["CredentialRow", "SessionRow", "TokenRow"]


class CredentialRow(SQLModel, table=True):
    """The password or the PIN of a person, as Argon2 leaves it."""

    __tablename__ = "credential"

    person: str = Field(sa_column=Column(Text, primary_key=True))
    kind: str = Field(sa_column=Column(Text, primary_key=True))
    hash: str = Field(sa_column=Column(Text, nullable=False))
    once: bool = Field(sa_column=Column(Boolean, nullable=False))
    at: int = Field(sa_column=Column(BigInteger, nullable=False))


class SessionRow(SQLModel, table=True):
    """Somebody who is signed in; what their browser sends is kept as a hash only."""

    __tablename__ = "sign_in"

    token: str = Field(sa_column=Column(Text, primary_key=True))
    person: str = Field(sa_column=Column(Text, nullable=False, index=True))
    place: str = Field(sa_column=Column(Text, nullable=False))
    csrf: str = Field(sa_column=Column(Text, nullable=False))
    began_at: int = Field(sa_column=Column(BigInteger, nullable=False))
    seen_at: int = Field(sa_column=Column(BigInteger, nullable=False))


class TokenRow(SQLModel, table=True):
    """What a machine or an enrolled station shows; kept as a hash only."""

    __tablename__ = "token"

    token: str = Field(sa_column=Column(Text, primary_key=True))
    kind: str = Field(sa_column=Column(Text, nullable=False))
    name: str = Field(sa_column=Column(Text, nullable=False))
    about: str = Field(sa_column=Column(Text, nullable=False))
    by: str = Field(sa_column=Column("by", Text, nullable=False))
    at: int = Field(sa_column=Column(BigInteger, nullable=False))
    used_at: int = Field(sa_column=Column(BigInteger, nullable=False))
