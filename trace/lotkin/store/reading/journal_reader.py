"""What the journal holds, and the plans in it, for one transaction."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.errors import UnknownEvent
from lotkin.core.values.planned_places import NO_PLACES, planned_places
from lotkin.store.connection.statements import Ask, TextLookup, columns
from lotkin.store.tables.journal_head import hash_of_event
from lotkin.store.tables.records import JOURNAL_COLUMNS, entry_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.genealogy.view import Entry
    from lotkin.core.plan import ShopPlan
    from lotkin.core.values.planned_places import PlannedPlaces
    from lotkin.store.connection.database import Database

__all__ = ["JOURNAL", "WORTH_LOOKING_UP", "JournalReader"]

JOURNAL = f"SELECT {columns(JOURNAL_COLUMNS)} FROM journal"

SEQ_OF_ID = Ask("SELECT seq FROM journal WHERE id = :event_id")
ENTRY = Ask(f"{JOURNAL} WHERE seq = :seq")
SEQS_OF_IDS = TextLookup("SELECT id, seq FROM journal WHERE id IN ({texts})")

WORTH_LOOKING_UP = 20
"""Texts from which one statement for all is quicker than one for each."""


class JournalReader:
    """Gives events as recorded, those that this transaction has added and not written included."""

    def __init__(
        self, database: Database, plans: dict[tuple[int, str], ShopPlan] | None = None
    ) -> None:
        """Look at a transaction; `plans` are those other views have read, by event and hash."""
        self.database = database
        self.new_entries: dict[int, Entry] = {}
        self.new_ids: dict[str, int] = {}
        self.unknown_ids: set[str] = set()
        self._plans = {} if plans is None else plans

    def entry(self, seq: int) -> Entry:
        """Give a journal row by its number."""
        if seq in self.new_entries:
            return self.new_entries[seq]
        rows = ENTRY.rows(self.database, seq=seq)
        if not rows:
            raise UnknownEvent(str(seq))
        return entry_of(rows[0])

    def look_up_ids(self, ids: Sequence[str]) -> None:
        """Find out at once which of some ids are recorded."""
        if len(ids) >= WORTH_LOOKING_UP:
            known = {row[0] for row in SEQS_OF_IDS.rows(self.database, ids)}
            self.unknown_ids.update(id_ for id_ in ids if id_ not in known)

    def entry_by_id(self, event_id: str) -> Entry | None:
        """Give a journal row by the sender's id."""
        if event_id in self.new_ids:
            return self.new_entries[self.new_ids[event_id]]
        if event_id in self.unknown_ids:
            return None
        rows = SEQ_OF_ID.rows(self.database, event_id=event_id)
        return self.entry(rows[0][0]) if rows else None

    def plan(self, seq: int) -> ShopPlan | None:
        """Give the plan that was loaded by event `seq`."""
        if not seq:
            return None
        key = (seq, self._hash_of(seq))
        if key not in self._plans:
            from lotkin.core.plan import ShopPlan  # noqa: PLC0415 - slow to load

            data = self.entry(seq).data.get("plan")
            self._plans[key] = ShopPlan.from_data(data)  # type: ignore[arg-type]
        return self._plans[key]

    def planned_places(self, plan: int) -> PlannedPlaces:
        """Give the places of the plan loaded by an event; 0 for none."""
        if not plan:
            return NO_PLACES
        known = self._plans.get((plan, self._hash_of(plan)))
        if known is not None:
            return known.planned_places()
        data = self.entry(plan).data.get("plan")
        return planned_places(data) if isinstance(data, dict) else NO_PLACES

    def _hash_of(self, seq: int) -> str:
        """Give the hash of an event: what it says never changes without it."""
        if seq in self.new_entries:
            return self.new_entries[seq].hash
        return hash_of_event(self.database, seq)
