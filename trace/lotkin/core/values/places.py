"""Spots where pieces can be, and the ends where they stop being anywhere."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

__all__ = ["END_NAMES", "IMPORTED", "NOWHERE", "UNKNOWN", "End", "Spot"]

UNKNOWN = "unknown"
"""Place of pieces of which nobody said where they are."""

IMPORTED = "imported"
"""Place of what was taken over from tables, which do not say where it is, until it is counted."""

NOWHERE = frozenset({UNKNOWN, IMPORTED})
"""Places that are none: where the pieces are was not recorded."""


class End(StrEnum):
    """Where pieces end; a name with the rank of a place, which no plan can use."""

    SCRAP = "scrap"
    SAMPLE = "sample"
    PROCESS_LOSS = "process loss"
    USED_IN = "used in"
    LOST = "lost"


END_NAMES = frozenset(str(end) for end in End)


class Spot(NamedTuple):
    """A place, and the carton or outside batch that the pieces are within there.

    `place` is a code of the plan (shelf, station, supplier, customer) or an `End`;
    `within` is "" for pieces that lie open.
    """

    place: str
    within: str = ""

    @property
    def is_end(self) -> bool:
        """Tell whether pieces there are gone for good."""
        return self.place in END_NAMES

    def __str__(self) -> str:
        return f"{self.place} ({self.within})" if self.within else self.place
