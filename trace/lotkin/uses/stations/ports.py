"""What a station asks of the store: one transaction for all that a scan is about."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from lotkin.uses.ports import CanRecord, Reading

if TYPE_CHECKING:
    from collections.abc import Sequence
    from contextlib import AbstractContextManager

    from lotkin.core.dialogue import ToldScan

__all__ = ["CanScan", "Scanning", "StationMemory"]


class StationMemory(Protocol):
    """What is remembered of the stations, within a transaction."""

    def session(self, station: str) -> tuple[int, str]:
        """Give the session of a station as it was written, after its counter; (0, "") for none."""

    def keep_session(self, station: str, counter: int, state: str) -> None:
        """Write the session of a station down."""

    def scan(self, number: str) -> ToldScan | None:
        """Give a scan by its id."""

    def add_scan(self, scan: ToldScan) -> None:
        """Keep a scan with its reply."""

    def scans_to_look_at(self) -> Sequence[ToldScan]:
        """List late scans that led nowhere and nobody has looked at, the oldest first."""

    def seen(self, number: str, person: str) -> bool:
        """Note that somebody has looked at a scan; False if there is none to look at."""


class Scanning(Reading, CanRecord, Protocol):
    """One transaction for one scan: what is recorded, and what stations remember.

    What is recorded in it can be undone by itself, by an error that ends the block of `recording`.
    """

    @property
    def stations(self) -> StationMemory:
        """What is remembered of the stations."""


class CanScan(Protocol):
    """A store that stations work with."""

    def scanning(self, *, only_look: bool = False) -> AbstractContextManager[Scanning]:
        """Give a transaction; all of it is kept if the block ends well, else none.

        One that only looks waits for nobody and keeps nothing.
        """
