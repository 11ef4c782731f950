"""What the uses ask of a store, as small protocols; they never see the store itself."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, Protocol

from lotkin.core.genealogy.view import View

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from contextlib import AbstractContextManager

    from lotkin.core.events.derivation import Effects
    from lotkin.core.exposure.reach import Reach
    from lotkin.core.genealogy.items import Fact, Item, Link
    from lotkin.core.genealogy.view import Entry
    from lotkin.core.journal.chain import ChainRow
    from lotkin.core.values.places import Spot
    from lotkin.core.values.planned_places import PlannedPlaces

__all__ = ["CanRead", "CanRebuild", "CanRecord", "Clock", "Reading", "Rebuilding", "Recording"]


class Clock(Protocol):
    """Tells the time."""

    def __call__(self) -> int:
        """Give microseconds since 1970-01-01 UTC."""


class Recording(View, Protocol):
    """One transaction in which events are recorded."""

    head: tuple[int, str]

    def plan_number(self) -> int:
        """Give the number of the event that loaded the plan in force; 0 for none."""

    def look_up_ids(self, ids: Sequence[str]) -> None:
        """Find out at once which of some ids are recorded; no answer changes by it."""

    def take(self, entry: Entry, effects: Effects) -> None:
        """Add an entry and all that it brings forth."""


class CanRecord(Protocol):
    """A store that events can be recorded in."""

    def recording(self) -> AbstractContextManager[Recording]:
        """Give a transaction; all of it is kept if the block ends well, else none."""


class Reading(View, Protocol):
    """One state of the store, for answers."""

    def journal_head(self) -> tuple[int, str]:
        """Give number and hash of the last journal row, as noted apart from the journal."""

    def item_as_of(self, code: str, as_of: int | None) -> Item | None:
        """Give an item as it read at a journal position; None for now."""

    def plan_number(self, as_of: int | None = None) -> int:
        """Give the number of the event that loaded the plan in force (then); 0 for none."""

    def planned_places(self, plan: int) -> PlannedPlaces:
        """Give the places of the plan loaded by an event; 0 for none."""

    def places_named(self) -> frozenset[str]:
        """Give all places and ends where anything ever was."""

    def children_then(self, code: str, as_of: int | None) -> Sequence[tuple[Link, Item, int]]:
        """List (link, child, microseconds UTC of its event) below an item at a position."""

    def reach(
        self,
        codes: Sequence[str],
        direction: Literal["down", "up"],
        *,
        as_of: int | None = None,
        first: Sequence[str] | None = None,
    ) -> Reach:
        """Walk from items and give what is reached, the items themselves included."""

    def reached_stock(self, as_of: int | None = None) -> Mapping[int, Mapping[Spot, int]]:
        """Map the positions of the last reach to what lies where, ends included."""

    def holds(self, as_of: int | None = None) -> Mapping[str, str]:
        """Map the code of every held item to the reason."""

    def batch_remainder(
        self, batch: str, as_of: int | None = None
    ) -> Sequence[tuple[str, Spot, int]]:
        """List (lot, spot, millionths) of what a batch had that became no treated lot."""

    def events_of(self, code: str) -> Sequence[int]:
        """List the numbers of the events that an item had a part in, in order."""

    def states_of(self, serial: str) -> Sequence[Item]:
        """List all states of a serial, the first one first."""

    def entries(self) -> Iterator[Entry]:
        """Yield the whole journal in order."""

    def chain_rows(self) -> Iterator[ChainRow]:
        """Yield the whole journal as it is stored, in order, nothing of it parsed."""

    def event_times(self) -> Mapping[int, tuple[int, int]]:
        """Map the number of every event to when it happened, as first sent, and was recorded."""

    def facts_of(self, topic: str) -> Sequence[Fact]:
        """List the living facts of a topic in order of subject, time and event."""

    def all_items(self) -> Iterator[Item]:
        """Yield all living items in order of code."""

    def all_links(self) -> Iterator[Link]:
        """Yield all living links in order of child, event, group and parent."""

    def all_stock(self) -> Sequence[tuple[str, Spot, int]]:
        """List (item, spot, millionths) of all that lies anywhere, ends included."""

    def last_moves(self) -> Mapping[str, int]:
        """Map the code of every item whose pieces were moved to the last event that did so."""


class CanRead(Protocol):
    """A store that can be asked."""

    def reading(self) -> AbstractContextManager[Reading]:
        """Give a view of one state of the store."""


class Rebuilding(Reading, Protocol):
    """One transaction in which everything is derived from the journal anew."""

    def set_aside(self) -> None:
        """Keep what is derived for comparison, and begin with nothing."""

    def apply(self, effects: Effects, seq: int) -> None:
        """Add what an event brings forth; the journal has it already."""

    def difference(self) -> str:
        """Say where what was set aside differs from what is there now; "" if nowhere."""


class CanRebuild(Protocol):
    """A store that can be derived anew."""

    def rebuilding(self, *, keep: bool) -> AbstractContextManager[Rebuilding]:
        """Give a transaction that is kept at its end, or undone if it only compares."""
