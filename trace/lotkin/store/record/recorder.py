"""Recording into a store, and deriving it anew, inside one transaction."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.errors import Circle
from lotkin.store.connection.statements import Change
from lotkin.store.reading.answer_reader import Reader
from lotkin.store.record.circles import find_circle
from lotkin.store.record.comparing import difference, set_aside
from lotkin.store.record.supersede import supersede
from lotkin.store.record.writer import Writer

if TYPE_CHECKING:
    from lotkin.core.events.derivation import Effects
    from lotkin.core.genealogy.view import Entry

__all__ = ["Rebuilder", "Recorder"]

FORGET_CHANGES = Change("DELETE FROM graph_change")


class Recorder(Writer, Reader):
    """Takes entries with their effects inside one transaction."""

    def take(self, entry: Entry, effects: Effects) -> None:
        """Add an entry and all that it brings forth.

        Raises:
            StillInUse: Something would vanish that other events rest on.
            Circle: The links would make an item its own ancestor.
        """
        self.add_entry(entry)
        self.apply(effects, entry.seq)
        self.write_much()

    def apply(self, effects: Effects, seq: int) -> None:
        """Add what an event brings forth; the journal has it already."""
        if not effects.again:
            self.add(effects.draft, seq)
            return
        links = supersede(self, effects.draft, effects.again, seq)
        self.flush()
        ends = [(self.number(link.parent), self.number(link.child)) for link in links]
        circle = find_circle(self.database, ends)
        if circle:
            raise Circle([self.code_of(number) for number in circle])


class Rebuilder(Recorder):
    """Derives everything from the journal anew.

    Attributes:
        differs: What `difference` said; None while it was not asked.
    """

    differs: str | None = None

    def set_aside(self) -> None:
        """Keep what is derived for comparison, and begin with nothing."""
        set_aside(self.database)
        FORGET_CHANGES.rows(self.database)
        self.forget()
        self.spots.clear()
        self.spot_names.clear()
        self.start_numbering()

    def difference(self) -> str:
        """Say where what was set aside differs from what is there now; "" if nowhere."""
        self.flush()
        self.differs = difference(self.database)
        return self.differs
