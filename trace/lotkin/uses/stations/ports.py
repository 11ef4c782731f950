"""What a station asks of whatever remembers it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Sequence
    from contextlib import AbstractContextManager

    from lotkin.core.dialogue import SessionState, ToldScan

__all__ = ["KeepsStations", "Memory", "StationNotes"]


class Memory(Protocol):
    """Where the session of one station is written down."""

    def load(self) -> SessionState | None:
        """Give the session as it was written last; None if it never was."""

    def save(self, state: SessionState) -> None:
        """Write a session down, whole or not at all."""


class StationNotes(Protocol):
    """One transaction on what is remembered of the stations."""

    def state(self, station: str) -> str:
        """Give the session of a station as it was written; "" for none."""

    def keep_state(self, station: str, state: str) -> None:
        """Write the session of a station down."""

    def scan(self, number: str) -> ToldScan | None:
        """Give a scan by its id."""

    def add_scan(self, scan: ToldScan) -> None:
        """Keep a scan with its reply."""

    def scans_to_look_at(self) -> Sequence[ToldScan]:
        """List late scans that led nowhere and nobody has looked at, the oldest first."""

    def seen(self, number: str, person: str) -> bool:
        """Note that somebody has looked at a scan; False if there is none to look at."""


class KeepsStations(Protocol):
    """A store that remembers stations."""

    def station_notes(self, *, only_look: bool = False) -> AbstractContextManager[StationNotes]:
        """Give a transaction; all of it is kept if the block ends well, else none.

        One that only looks waits for nobody and keeps nothing.
        """
