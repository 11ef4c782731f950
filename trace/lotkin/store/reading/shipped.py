"""Places where goods were, and those that they were shipped to, as the living tables tell."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.store.connection.statements import Ask

if TYPE_CHECKING:
    from lotkin.store.connection.database import Database

__all__ = ["places_named", "places_shipped_to"]

PLACES = Ask("SELECT DISTINCT place FROM spot")

# the pieces that are linked to a shipment, where the event that made the shipment put them
SHIPPED_TO = Ask(
    "SELECT DISTINCT spot.place FROM item AS shipment "
    "JOIN link ON link.event = shipment.event AND link.child = shipment.id "
    "JOIN movement ON movement.event = link.event AND movement.item = link.parent "
    "JOIN spot ON spot.id = movement.destination "
    "WHERE shipment.kind = 'shipment'"
)


def places_named(database: Database) -> frozenset[str]:
    """Give all places and ends where anything ever was."""
    return frozenset(row[0] for row in PLACES.rows(database))


def places_shipped_to(database: Database) -> frozenset[str]:
    """Give the places that any shipment took something to, whatever the plan says of them."""
    return frozenset(row[0] for row in SHIPPED_TO.rows(database))
