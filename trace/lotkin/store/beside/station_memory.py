"""Reading and writing what is remembered of the stations."""

from __future__ import annotations

from dataclasses import astuple, fields
from typing import TYPE_CHECKING, Any

from lotkin.core.dialogue import ToldScan
from lotkin.store.connection.bulk import put_rows
from lotkin.store.connection.statements import Ask, Change, columns

if TYPE_CHECKING:
    from lotkin.store.connection.database import Database

__all__ = ["StationMemory"]

SCAN_COLUMNS = tuple(field.name for field in fields(ToldScan))
SCANS = f"SELECT {columns(SCAN_COLUMNS)} FROM station_scan"
OPEN = "needs_look AND seen_by = ''"

SESSION = Ask("SELECT counter, state FROM station_state WHERE station = :station")
KEEP_SESSION = Change(
    "INSERT INTO station_state (station, counter, state) VALUES (:station, :counter, :state) "
    "ON CONFLICT (station) DO UPDATE SET counter = excluded.counter, state = excluded.state"
)
SCAN = Ask(f"{SCANS} WHERE id = :number")
TO_LOOK_AT = Ask(f'{SCANS} WHERE {OPEN} ORDER BY received_at, "at", id')
SEEN = Change(f"UPDATE station_scan SET seen_by = :person WHERE id = :number AND {OPEN}")


class StationMemory:
    """What is remembered of the stations, within a transaction."""

    def __init__(self, database: Database) -> None:
        self.database = database

    def session(self, station: str) -> tuple[int, str]:
        """Give the session of a station as it was written, after its counter; (0, "") for none."""
        rows = SESSION.rows(self.database, station=station)
        return (int(rows[0][0]), str(rows[0][1])) if rows else (0, "")

    def keep_session(self, station: str, counter: int, state: str) -> None:
        """Write the session of a station down."""
        KEEP_SESSION.rows(self.database, station=station, counter=counter, state=state)

    def scan(self, number: str) -> ToldScan | None:
        """Give a scan by its id."""
        rows = SCAN.rows(self.database, number=number)
        return _told(rows[0]) if rows else None

    def add_scan(self, scan: ToldScan) -> None:
        """Keep a scan with its reply."""
        put_rows(self.database, "station_scan", [astuple(scan)], SCAN_COLUMNS)

    def scans_to_look_at(self) -> list[ToldScan]:
        """List late scans that led nowhere and nobody has looked at, the oldest first."""
        return [_told(row) for row in TO_LOOK_AT.rows(self.database)]

    def seen(self, number: str, person: str) -> bool:
        """Note that somebody has looked at a scan; False if there is none to look at."""
        return SEEN.rows(self.database, number=number, person=person) > 0


def _told(row: tuple[Any, ...]) -> ToldScan:
    told = dict(zip(SCAN_COLUMNS, row, strict=True))
    # SQLite has no truth values but numbers
    return ToldScan(**{**told, "late": bool(told["late"]), "needs_look": bool(told["needs_look"])})
