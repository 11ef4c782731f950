"""The events by which something came into a carton or an outside batch."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.store.connection.statements import Ask

if TYPE_CHECKING:
    from lotkin.store.connection.database import Database

__all__ = ["events_filling"]

EVENTS_FILLING = Ask(
    "SELECT DISTINCT movement.event FROM movement JOIN spot ON spot.id = movement.destination "
    "WHERE spot.within = :container ORDER BY 1"
)


def events_filling(database: Database, container: str) -> list[int]:
    """List the numbers of the events that put anything into a carton or outside batch."""
    return [int(row[0]) for row in EVENTS_FILLING.rows(database, container=container)]
