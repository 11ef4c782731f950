"""Stories of a bench, told twice: with mounts, and with every component of every unit named.

What happens at which minute is drawn first; a mount may be told late, after what happened since.
Told with mounts, events come in the order of telling and say what was believed then. Told unit by
unit, they come in the order of happening, with the truth, and there is no bench at all.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from hypothesis import strategies as st

from tests.small_works import Works

if TYPE_CHECKING:
    from tests.histories import Draw
    from tests.small_works import Data

__all__ = ["Step", "Story", "told_unit_by_unit", "told_with_mounts"]

PER = {"P1": 1, "P2": 2}
LOTS = {"P1": [f"T{i}" for i in range(4)], "P2": [f"S{i}" for i in range(6)]}


@dataclass(frozen=True)
class Step:
    """One thing that happens.

    Attributes:
        kind: `mount`, `top-up`, `build` or `swap`.
        minute: When it happens.
        told: When it is recorded; minutes are in order of happening and of telling alike.
        position, lot: For a mount or top-up: what is at the position from then on.
        old: For a top-up: what was there before, part of which goes into the new lot.
        fresh: For a top-up: the lot that was added; for a swap: where new screws are from.
        unit: The unit built or changed.
        pieces: How many pieces a swap takes out.
    """

    kind: str
    minute: int
    told: int
    position: str = ""
    lot: str = ""
    old: str = ""
    fresh: str = ""
    unit: str = ""
    pieces: int = 0


@dataclass
class Story:
    """What happens, drawn step by step."""

    draw: Draw
    steps: list[Step] = field(default_factory=list)
    minute: int = 20
    mounted: dict[str, str] = field(default_factory=dict)
    fresh: dict[str, list[str]] = field(
        default_factory=lambda: {p: list(x) for p, x in LOTS.items()}
    )
    units: list[str] = field(default_factory=list)
    swapped: set[str] = field(default_factory=set)

    def tell(self, most: int) -> Story:
        """Let up to so many things happen after both positions were filled."""
        for position in PER:
            self._mount(position, late=0)
        for _ in range(self.draw(st.integers(1, most))):
            self.minute += 1
            choice = self.draw(st.integers(0, 7))
            position = ("P1", "P2")[self.draw(st.integers(0, 1))]
            if choice <= 2:
                self._build()
            elif choice == 3:
                self._mount(position, late=0)
            elif choice == 4:
                self._mount(position, late=self.draw(st.integers(1, 6)))
            elif choice == 5:
                self._top_up(position)
            else:
                self._swap()
        return self

    def _mount(self, position: str, *, late: int) -> None:
        if self.fresh[position] and not self._is_waiting():
            lot = self.fresh[position].pop(0)
            self.mounted[position] = lot
            told = self.minute + late
            self.steps.append(Step("mount", self.minute, told, position=position, lot=lot))

    def _is_waiting(self) -> bool:
        """Tell whether a mount is still to be told; only one is at a time."""
        return any(step.told >= self.minute and step.told > step.minute for step in self.steps)

    def _top_up(self, position: str) -> None:
        """Tip what is left at a position together with some of a fresh lot, and mount that."""
        if not self.fresh[position] or self._is_waiting():
            return
        lot = f"POOL-{position}-{self.minute}"
        old, fresh = self.mounted[position], self.fresh[position].pop(0)
        self.mounted[position] = lot
        at = self.minute
        self.steps.append(Step("top-up", at, at, position=position, lot=lot, old=old, fresh=fresh))

    def _build(self) -> None:
        unit = f"U{len(self.units)}"
        self.units.append(unit)
        self.steps.append(Step("build", self.minute, self.minute, unit=unit))

    def _swap(self) -> None:
        left = [unit for unit in self.units if unit not in self.swapped]
        if left:
            unit = left[self.draw(st.integers(0, len(left) - 1))]
            self.swapped.add(unit)
            pieces = self.draw(st.integers(0, 2))
            self.steps.append(
                Step("swap", self.minute, self.minute, unit=unit, fresh="SPARE", pieces=pieces)
            )


def furnished() -> Works:
    """Make a works with the lots, each of them split so that the bench gets a part of it."""
    works = Works()
    works.receive("SPARE", 100, at=1)
    for position, lots in LOTS.items():
        part = {"P1": "TIP", "P2": "SCREW"}[position]
        for lot in lots:
            works.receive(lot, 100, part=part, at=1)
    return works


def built_from(steps: list[Step]) -> dict[str, dict[str, str]]:
    """Tell which lot was at each position when each unit was built, by steps in their order."""
    mounted: dict[str, str] = {}
    found = {}
    for step in steps:
        if step.kind in ("mount", "top-up"):
            mounted[step.position] = step.lot
        elif step.kind == "build":
            found[step.unit] = dict(mounted)
    return found


def by_minute(steps: list[Step]) -> list[Step]:
    return sorted(steps, key=lambda step: step.minute)


def top_up(works: Works, step: Step) -> None:
    inputs: list[Data] = [
        {"item": step.old, "place": "B1", "quantity": 7},
        {"item": step.fresh, "place": "SHELF", "quantity": 25},
    ]
    works.pool(step.lot, inputs, place="B1", at=step.minute, reported=True)


def swap(works: Works, step: Step, lot: str) -> None:
    """Take screws out of a unit and put as many spare ones in; none: a repair."""
    remove: list[Data] = []
    if step.pieces:
        remove = [
            {"item": lot, "position": "P2", "quantity": step.pieces, "place": "SHELF"}
            | {"code": f"OUT-{step.unit}"}
        ]
    add: list[Data] = [{"item": "SPARE", "quantity": step.pieces}] if step.pieces else []
    works.swap(step.unit, remove, add, at=step.minute, reported=True)


def told_with_mounts(story: Story) -> Works:
    """Record a story with mounts and builds, in the order in which it was told."""
    works = furnished()
    told = sorted(story.steps, key=lambda step: (step.told, step.minute))
    for i, step in enumerate(told):
        if step.kind == "mount":
            row: Data = {"item": step.lot, "per": PER[step.position]}
            row |= {"origin": "SHELF", "quantity": 40}
            works.mount({step.position: row}, at=step.minute, reported=True)
        elif step.kind == "top-up":
            top_up(works, step)
            lot: Data = {"item": step.lot, "per": PER[step.position]}
            works.mount({step.position: lot}, at=step.minute, reported=True)
        elif step.kind == "build":
            works.build(step.unit, at=step.minute, reported=True)
        else:
            believed = built_from(by_minute(told[: i + 1]))
            swap(works, step, believed[step.unit]["P2"])
    return works


def told_unit_by_unit(story: Story) -> Works:
    """Record a story without a bench, in the order in which it happened, with the truth."""
    works = furnished()
    truth = built_from(by_minute(story.steps))
    for step in by_minute(story.steps):
        if step.kind == "mount":
            works.do(
                "move",
                item=step.lot,
                quantity=40,
                place="SHELF",
                to_place="B1",
                at=step.minute,
                reported=True,
            )
        elif step.kind == "top-up":
            top_up(works, step)
        elif step.kind == "build":
            inputs: list[Data] = [
                {"item": lot, "place": "B1", "quantity": PER[position], "position": position}
                for position, lot in truth[step.unit].items()
            ]
            works.build(step.unit, None, inputs=inputs, place="B1", at=step.minute, reported=True)
        else:
            swap(works, step, truth[step.unit]["P2"])
    return works
