"""Opening the store that a command line means."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator
    from contextlib import AbstractContextManager
    from typing import Protocol

    from lotkin.core.genealogy.items import Movement
    from lotkin.core.plan import ShopPlan
    from lotkin.uses.exchange.import_ports import Listing
    from lotkin.uses.ports import CanRead, CanRebuild, CanRecord, Reading
    from lotkin.uses.stations.ports import CanScan
    from lotkin_answers.places import Places

    class ReadingAll(Reading, Listing, Protocol):
        """One state of the store, for answers and for whole tables."""

        def all_movements(self) -> Iterator[Movement]:
            """Yield all living movements in order of event and item."""

    class Opened(CanRecord, CanRebuild, CanScan, Protocol):
        """A store that all verbs can work with."""

        def reading(self) -> AbstractContextManager[ReadingAll]:
            """Give a view of one state of the store."""

        def copy_graph(self, *, only_if_due: bool = False) -> int:
            """Make the copy of the graph anew."""


__all__ = ["open_db", "places_in", "plan_in_force"]


def open_db(db: str | None) -> Opened:
    """Open the store named, or the one that is meant where none is.

    Raises:
        Unavailable: There is none, or it cannot be used.
    """
    # the database's libraries are slow to load
    from lotkin.wiring import db_url, open_store

    return open_store(db_url(db))


def places_in(store: CanRead) -> Places:
    """Give the names of places, and the time zone, of the plan in force."""
    from lotkin.uses.lookup.places_in_force import places_in_force
    from lotkin_answers.places import Places

    return Places(places_in_force(store))


def plan_in_force(store: CanRead) -> ShopPlan | None:
    """Give the plan."""
    from lotkin.uses.recording.load_plan import current_plan

    return current_plan(store)[1]
