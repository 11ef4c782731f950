"""What the service remembers of its stations; none of it is evidence, and none is derived."""

from __future__ import annotations

from sqlalchemy import BigInteger, Boolean, Column, Index, Text
from sqlmodel import Field, SQLModel

__all__ = ["StationScanRow", "StationStateRow"]


class StationStateRow(SQLModel, table=True):
    """The session of a station; its counter goes up by one with every scan that changes it."""

    __tablename__ = "station_state"

    station: str = Field(sa_column=Column(Text, primary_key=True))
    state: str = Field(sa_column=Column(Text, nullable=False))
    counter: int = Field(sa_column=Column(BigInteger, nullable=False, server_default="1"))


class StationScanRow(SQLModel, table=True):
    """A scan with what was said to it."""

    __tablename__ = "station_scan"
    __table_args__ = (Index("ix_station_scan_open", "needs_look", "received_at"),)

    id: str = Field(sa_column=Column(Text, primary_key=True))
    station: str = Field(sa_column=Column(Text, nullable=False))
    place: str = Field(sa_column=Column(Text, nullable=False))
    person: str = Field(sa_column=Column(Text, nullable=False))
    text: str = Field(sa_column=Column(Text, nullable=False))
    at: int = Field(sa_column=Column(BigInteger, nullable=False))
    received_at: int = Field(sa_column=Column(BigInteger, nullable=False))
    late: bool = Field(sa_column=Column(Boolean, nullable=False))
    tone: str = Field(sa_column=Column(Text, nullable=False))
    say: str = Field(sa_column=Column(Text, nullable=False))
    ask: str = Field(sa_column=Column(Text, nullable=False))
    needs_look: bool = Field(sa_column=Column(Boolean, nullable=False))
    seen_by: str = Field(sa_column=Column(Text, nullable=False))
