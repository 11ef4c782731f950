"""An event of ours that is to be told, and how its items and moments are named."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, timedelta
from typing import TYPE_CHECKING, Any, Protocol

from lotkin.core.values.instants import from_us

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import tzinfo

    from lotkin.core.epcis.extension import EventRows
    from lotkin.core.genealogy.items import Item

__all__ = ["Naming", "Told", "moment"]


@dataclass(frozen=True, slots=True)
class Told:
    """An event to tell.

    Attributes:
        id: UUID that its sender chose.
        kind: Kind.
        at: When it happened, microseconds UTC.
        data: The event as it reads, or read.
        reading: How often it was amended before it read so.
        piece: Number of the part of a long event that this is; 0 for the whole.
        rows: What it brought forth.
        subjects: Codes of what it is about besides, where `data` does not name them.
        wanted: The only items that may be named; None for any.
    """

    id: str
    kind: str
    at: int
    data: Mapping[str, Any]
    rows: EventRows
    reading: int = 0
    piece: int = 0
    subjects: tuple[str, ...] = ()
    wanted: frozenset[str] | None = None

    def may_name(self, code: str) -> bool:
        """Tell whether an item may be named."""
        return self.wanted is None or code in self.wanted


class Naming(Protocol):
    """Finds items, and names them."""

    def item(self, code: str) -> Item | None:
        """Find an item; None for one that is not there (any more)."""

    def uri(self, code: str) -> str:
        """Name an item."""

    def part(self, code: str) -> str:
        """Name a part, without any lot."""


def moment(us: int, zone: tzinfo) -> tuple[str, str]:
    """Write a time to the millisecond with its offset, and the offset."""
    local = from_us(us - us % 1000).astimezone(zone)
    offset = local.utcoffset() or timedelta(0)
    if offset % timedelta(minutes=1):  # old local mean times
        local = local.astimezone(UTC)
    text = local.isoformat(timespec="milliseconds")
    return text, text[-6:]
