"""Reading and writing what is remembered of the stations."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING

from sqlalchemy import delete, insert, select, update

from lotkin.core.dialogue import ToldScan
from lotkin.store.beside.station_tables import StationScanRow, StationStateRow
from lotkin.store.tables.rows import table_of

if TYPE_CHECKING:
    from sqlalchemy import Connection, Row

__all__ = ["StationNotes"]

STATE, SCAN = table_of(StationStateRow), table_of(StationScanRow)
COLUMNS = [SCAN.c[field.name] for field in fields(ToldScan)]


class StationNotes:
    """One transaction on what is remembered of the stations."""

    def __init__(self, connection: Connection) -> None:
        self.connection = connection

    def state(self, station: str) -> str:
        """Give the session of a station as it was written; "" for none."""
        found = self.connection.execute(select(STATE.c.state).where(STATE.c.station == station))
        return str(found.scalar() or "")

    def keep_state(self, station: str, state: str) -> None:
        """Write the session of a station down."""
        self.connection.execute(delete(STATE).where(STATE.c.station == station))
        self.connection.execute(insert(STATE).values(station=station, state=state))

    def scan(self, number: str) -> ToldScan | None:
        """Give a scan by its id."""
        row = self.connection.execute(select(*COLUMNS).where(SCAN.c.id == number)).first()
        return _told(row) if row is not None else None

    def add_scan(self, scan: ToldScan) -> None:
        """Keep a scan with its reply."""
        values = {field.name: getattr(scan, field.name) for field in fields(scan)}
        self.connection.execute(insert(SCAN).values(**values))

    def scans_to_look_at(self) -> list[ToldScan]:
        """List late scans that led nowhere and nobody has looked at, the oldest first."""
        wanted = select(*COLUMNS).where(SCAN.c.needs_look, SCAN.c.seen_by == "")
        found = self.connection.execute(wanted.order_by(SCAN.c.received_at, SCAN.c.at, SCAN.c.id))
        return [_told(row) for row in found]

    def seen(self, number: str, person: str) -> bool:
        """Note that somebody has looked at a scan; False if there is none to look at."""
        change = (
            update(SCAN)
            .where(SCAN.c.id == number, SCAN.c.needs_look, SCAN.c.seen_by == "")
            .values(seen_by=person)
        )
        return self.connection.execute(change).rowcount > 0


def _told(row: Row[tuple[object, ...]]) -> ToldScan:
    return ToldScan(**row._mapping)
