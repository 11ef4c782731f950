"""Lots go to positions of a bench: mounted, topped up, or put in the place of another."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar

from lotkin.core.dialogue.jobs.job import Known, Work, shown
from lotkin.core.events.units.bench import setups_between
from lotkin.core.genealogy.draft import Draft
from lotkin.core.scan.commands import ScanCommand
from lotkin.core.values.places import Spot

if TYPE_CHECKING:
    from lotkin.core.dialogue.desk import Desk
    from lotkin.core.dialogue.reply import Reply
    from lotkin.core.dialogue.words import Word
    from lotkin.core.genealogy.items import Item
    from lotkin.core.scan.commands import BenchSpot
    from lotkin.core.values.canonical import Json

__all__ = ["MountWork", "mounted_at"]


def mounted_at(bench: str, desk: Desk) -> dict[str, str]:
    """Map the positions of a bench to the lots that they hold now."""
    draft = Draft(desk.view)
    setups = setups_between(draft, bench, None, desk.now)
    return {link.position: link.parent for link in draft.parents(setups[-1])} if setups else {}


@dataclass(frozen=True, slots=True)
class Change:
    """A lot for a position, and the rest of the one before that it is tipped onto."""

    spot: BenchSpot
    lot: Item
    onto: Item | None = None


class MountWork(Work):
    """One or more positions of a bench."""

    title: ClassVar[str] = "mount"

    def __init__(self, known: Known, spot: BenchSpot) -> None:
        super().__init__(known)
        self.bench = spot.bench
        self.spot: BenchSpot | None = spot
        self.changes: list[Change] = []
        self.question: Change | None = None

    def take(self, word: Word, desk: Desk) -> Reply | None:
        """Take positions and lots in turn."""
        if self.question is not None and word.command in (ScanCommand.MIX, ScanCommand.REPLACE):
            return self._answer(word.command, desk)
        if word.spot is not None:
            if word.spot.bench != self.bench:
                return self.refuse(f"{word.spot.bench} is another bench", desk)
            self.spot = word.spot
            return self.ok(f"position {word.spot.position}", desk)
        if word.item is None:
            return None
        if self.spot is None:
            return self.refuse("scan the position first", desk)
        return self._take_lot(self.spot, word.item, desk)

    def _take_lot(self, spot: BenchSpot, lot: Item, desk: Desk) -> Reply:
        bench = desk.plan.bench(spot.bench)
        positions = bench.positions if bench is not None else ()
        planned = {position.code: position for position in positions}.get(spot.position)
        if planned is None:
            return self.refuse(f"{spot.bench} has no position {spot.position}", desk)
        if planned.part != lot.part:
            return self.refuse(f"{shown(lot)} does not belong there; {planned.part} does", desk)
        reason = desk.why_not(lot, "mounted")
        if reason:
            return self.refuse(reason, desk)
        if not desk.has_left(lot):
            return self.refuse(f"none of {lot.code} is left", desk)
        before = desk.view.item(mounted_at(spot.bench, desk).get(spot.position, ""))
        if before is not None and before.code == lot.code:
            return self.refuse(f"{lot.code} is there already", desk)
        self.spot = None
        station = bench.place if bench is not None else desk.station
        rest = desk.view.stock(before.code).get(Spot(station), 0) if before is not None else 0
        if before is not None and rest > 0:
            self.question = Change(spot, lot, before)
            return self.ok(shown(lot), desk)
        self.changes.append(Change(spot, lot))
        return self.ok(shown(lot), desk)

    def choices(self) -> tuple[ScanCommand, ...]:
        """Tipped onto the rest or put in its place, while that is the question."""
        return (ScanCommand.MIX, ScanCommand.REPLACE) if self.question is not None else ()

    def _answer(self, command: ScanCommand, desk: Desk) -> Reply:
        change, self.question = self.question, None
        assert change is not None
        if command is ScanCommand.REPLACE:
            change = replace(change, onto=None)
        self.changes.append(change)
        return self.ok("tipped together" if change.onto else "the old lot is taken away", desk)

    def lacks(self, desk: Desk) -> str:  # noqa: ARG002 - it knows its positions
        """Ask for the lot of a position, or what became of the rest there."""
        if self.question is not None and self.question.onto is not None:
            return (
                f"{self.question.onto.code} is still there: tipped onto it, scan MIX; else REPLACE"
            )
        if self.spot is not None:
            return f"scan the lot for {self.spot.position}"
        return ""

    def events(self, desk: Desk) -> list[dict[str, Json]]:
        """Give the mixing of topped-up bins, then the mount of all positions."""
        bench = desk.plan.bench(self.bench)
        station = bench.place if bench is not None else desk.station
        events: list[dict[str, Json]] = []
        positions: list[Json] = []
        for turn, change in enumerate(self.changes):
            code = change.lot.code
            if change.onto is not None:
                code = f"MIX-{self.own_code(turn)}"
                events.append(
                    {
                        "kind": "pool",
                        "code": code,
                        "place": station,
                        "inputs": [
                            {"item": change.onto.code, "place": station},
                            {"item": change.lot.code, "place": desk.place_of(change.lot)},
                        ],
                    }
                )
            positions.append({"position": change.spot.position, "item": code})
        events.append({"kind": "mount", "bench": self.bench, "positions": positions})
        return events

    def read_back(self, desk: Desk) -> str:  # noqa: ARG002 - it knows all it says
        """Say what each position holds from now on."""
        return "; ".join(
            f"{change.spot.position}: {change.lot.code}"
            + (f" tipped onto {change.onto.code}" if change.onto else "")
            for change in self.changes
        )
