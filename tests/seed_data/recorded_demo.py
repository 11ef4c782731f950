"""The demo works as recorded, and what its tests ask of it."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.values.kinds import Mixing
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from lotkin.core.genealogy.items import Item, Link
    from lotkin.core.genealogy.view import Entry, View
    from lotkin.store.store import Store
    from lotkin_demo import DemoWorks


@dataclass(frozen=True)
class Demo:
    """A view of the demo works, its journal, and the notable codes."""

    view: View
    works: DemoWorks
    entries: tuple[Entry, ...]

    def item(self, code: str) -> Item:
        item = self.view.item(code)
        assert item is not None, code
        return item

    def parents(self, code: str) -> list[Link]:
        return [link for link in self.view.parents(code) if link.mixing is not Mixing.FORMER]

    def parents_of_kind(self, code: str, *kinds: str) -> list[str]:
        return [one.parent for one in self.parents(code) if self.item(one.parent).kind in kinds]

    def ancestors(self, code: str) -> set[str]:
        found, waiting = {code}, [code]
        while waiting:
            for link in self.parents(waiting.pop()):
                if link.parent not in found:
                    found.add(link.parent)
                    waiting.append(link.parent)
        return found - {code}

    def at_position(self, unit: str, position: str) -> set[str]:
        """Name the lots that a unit may have at a position."""
        setups = self.parents_of_kind(unit, "bench-setup")
        links = [link for setup in setups for link in self.view.parents(setup)]
        return {link.parent for link in [*links, *self.parents(unit)] if link.position == position}

    def stock(self, code: str) -> dict[str, int]:
        """Map each place to whole pieces there, whatever they lie in."""
        found: Counter[str] = Counter()
        for spot, quantity in self.view.stock(code).items():
            found[spot.place] += quantity // MICRO
        return dict(found)

    def entries_of(self, kind: str) -> list[Entry]:
        return [entry for entry in self.entries if entry.kind == kind]

    def entry_of(self, code: str) -> Entry:
        return self.view.entry(self.item(code).event)


def rows(entry: Entry, field: str) -> list[dict[str, object]]:
    """Give the rows of an event under a field."""
    found = entry.data.get(field, [])
    assert isinstance(found, list)
    return [dict(row) for row in found if isinstance(row, dict)]


@dataclass(frozen=True)
class Recorded:
    """A store with the demo works in it."""

    store: Store
    works: DemoWorks
    entries: tuple[Entry, ...]
    told: tuple[int, ...]
