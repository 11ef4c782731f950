"""Counting and removing what is kept beside the record and is older than it need be."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sqlalchemy import delete, func, or_, select

from lotkin.store.beside.access_tables import SessionRow
from lotkin.store.beside.letter_tables import DeliveryRow, NoticeRow
from lotkin.store.beside.station_tables import StationScanRow
from lotkin.store.tables.rows import table_of

if TYPE_CHECKING:
    from sqlalchemy import ColumnElement, Connection, Table

__all__ = ["Retaining"]

SCAN, NOTICE, DELIVERY, SESSION = map(
    table_of, (StationScanRow, NoticeRow, DeliveryRow, SessionRow)
)


class Retaining:
    """One transaction on what may go."""

    def __init__(self, connection: Connection) -> None:
        self.connection = connection

    def old(self, kind: str, before: int) -> int:
        """Count what is older than a moment."""
        table, condition = _chosen(kind, before)
        query = select(func.count()).select_from(table).where(condition)
        return int(self.connection.execute(query).scalar() or 0)

    def remove(self, kind: str, before: int) -> int:
        """Remove what is older than a moment; gives how many."""
        table, condition = _chosen(kind, before)
        if kind == "notices":
            going = select(NOTICE.c.id).where(condition)
            self.connection.execute(delete(DELIVERY).where(DELIVERY.c.notice.in_(going)))
        return self.connection.execute(delete(table).where(condition)).rowcount


def _chosen(kind: str, before: int) -> tuple[Table, ColumnElement[bool]]:
    if kind == "scans":
        looked_at = or_(~SCAN.c.needs_look, SCAN.c.seen_by != "")
        return SCAN, (SCAN.c.received_at < before) & looked_at
    if kind == "notices":
        waiting = select(DELIVERY.c.notice).where(DELIVERY.c.next_at.is_not(None))
        return NOTICE, (NOTICE.c.made_at < before) & NOTICE.c.id.not_in(waiting)
    return SESSION, SESSION.c.seen_at < before
