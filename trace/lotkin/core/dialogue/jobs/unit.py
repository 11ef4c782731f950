"""Units are built at a bench and tested."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from lotkin.core.dialogue.jobs.bench import mounted_at
from lotkin.core.dialogue.jobs.job import Known, Work, shown
from lotkin.core.dialogue.number_slot import NumberSlot
from lotkin.core.values.kinds import Family
from lotkin.core.values.quantities import to_micro

if TYPE_CHECKING:
    from lotkin.core.dialogue.desk import Desk
    from lotkin.core.dialogue.reply import Reply
    from lotkin.core.dialogue.words import Word
    from lotkin.core.genealogy.items import Item
    from lotkin.core.plan import BenchPlan, PartPlan
    from lotkin.core.values.canonical import Json

__all__ = ["BuildWork", "TestWork", "bench_here", "unit_part_of"]


def bench_here(desk: Desk) -> BenchPlan | None:
    """Give the bench of the station; None if it has none, or several."""
    here = [bench for bench in desk.plan.benches if bench.place == desk.station]
    return here[0] if len(here) == 1 else None


def unit_part_of(bench: BenchPlan, desk: Desk) -> PartPlan | None:
    """Give the unit that a bench builds: the one whose bill of material its positions serve."""
    mounted = {position.part for position in bench.positions}
    fitting = [
        part
        for part in desk.plan.parts
        if part.kind == "unit" and mounted <= {need.part for need in part.needs}
    ]
    return fitting[0] if len(fitting) == 1 else None


class BuildWork(Work):
    """One unit at a bench."""

    title: ClassVar[str] = "build"

    def __init__(self, known: Known, serial: str, bench: BenchPlan, part: PartPlan) -> None:
        super().__init__(known)
        self.serial, self.bench, self.part = serial, bench, part
        self.components: list[Item] = []

    def opening(self, word: Word, desk: Desk) -> Reply:  # noqa: ARG002 - the serial is known
        """Name the unit."""
        return self.ok(f"{self.part.name} {self.serial}", desk)

    def take(self, word: Word, desk: Desk) -> Reply | None:
        """Take components of their own, such as a motor with a serial."""
        if word.text == self.serial:
            return self.ok(f"{self.serial} is scanned already", desk)
        if word.item is None:
            return None
        item = word.item
        if any(item.code == known.code for known in self.components):
            return self.ok(f"{item.code} is scanned already", desk)
        if item.part not in self._missing(desk):
            return self.refuse(f"{shown(item)} is not what {self.serial} lacks", desk)
        reason = desk.why_not(item, "built in")
        if reason:
            return self.refuse(reason, desk)
        if not desk.has_left(item):
            return self.refuse(f"none of {item.code} is left", desk)
        self.components.append(item)
        return self.ok(shown(item), desk)

    def _missing(self, desk: Desk) -> dict[str, int]:
        """Map parts that neither the bench nor a scan has given yet to what is missing."""
        given: dict[str, int] = {}
        mounted = mounted_at(self.bench.code, desk)
        for position in self.bench.positions:
            if position.code in mounted:
                given[position.part] = given.get(position.part, 0) + to_micro(position.per)
        for item in self.components:
            given[item.part] = given.get(item.part, 0) + to_micro(1)
        return {
            need.part: to_micro(need.per) - given.get(need.part, 0)
            for need in self.part.needs
            if to_micro(need.per) > given.get(need.part, 0)
        }

    def lacks(self, desk: Desk) -> str:
        """Ask for what the bill of material still wants."""
        missing = self._missing(desk)
        return f"scan the {next(iter(missing))}" if missing else ""

    def events(self, desk: Desk) -> list[dict[str, Json]]:
        """Give the unit."""
        event: dict[str, Json] = {
            "kind": "build",
            "serial": self.serial,
            "part": self.part.code,
            "bench": self.bench.code,
        }
        if self.components:
            inputs: list[Json] = [
                {"item": item.code, "place": desk.place_of(item)} for item in self.components
            ]
            event["inputs"] = inputs
        return [event]

    def read_back(self, desk: Desk) -> str:  # noqa: ARG002 - it knows all it says
        """Say serial and components."""
        own = "".join(f", {item.part} {item.code}" for item in self.components)
        return f"{self.part.code} {self.serial} from what is mounted at {self.bench.code}{own}"


class TestWork(Work):
    """The readings of a unit."""

    __test__ = False
    title: ClassVar[str] = "test"

    def __init__(self, known: Known, unit: Item, part: PartPlan) -> None:
        super().__init__(known)
        self.unit, self.part = unit, part
        self.rigs: list[str] = [known.last_rig] if known.last_rig else []

    def opening(self, word: Word, desk: Desk) -> Reply:  # noqa: ARG002 - the unit is known
        """Name the unit, and the rig if it is the one from before."""
        rig = f", rig {self.rigs[0]} as before" if self.rigs else ""
        return self.ok(f"{shown(self.unit)}{rig}", desk)

    def take(self, word: Word, desk: Desk) -> Reply | None:
        """Take the rig, if it is another one than before."""
        if word.item is None:
            return None
        if word.item.code == self.unit.code:
            return self.ok(f"{self.unit.code} is scanned already", desk)
        if word.item.family is not Family.RESOURCE:
            return None
        reason = desk.why_not(word.item, "used for a test")
        if reason:
            return self.refuse(reason, desk)
        self.rigs = [word.item.code]
        return self.ok(f"rig {word.item.code}", desk)

    def lacks(self, desk: Desk) -> str:  # noqa: ARG002 - the rig is all that is needed
        """Ask for the rig, once; later units are tested with the same."""
        return "" if self.rigs else "scan the test rig"

    def slots(self, desk: Desk) -> list[NumberSlot]:  # noqa: ARG002 - the plan says them
        """Ask for every reading."""
        return [
            NumberSlot(
                f"{test.name} {i + 1}",
                f"{test.name} {i + 1} of {test.readings}, {test.unit}?",
                low=test.min,
                high=test.max,
            )
            for test in self.part.tests
            for i in range(test.readings)
        ]

    def events(self, desk: Desk) -> list[dict[str, Json]]:  # noqa: ARG002 - nothing is looked up
        """Give one event a test."""
        return [
            {
                "kind": "test",
                "unit": self.unit.code,
                "name": test.name,
                "readings": [
                    f"{self.numbers[f'{test.name} {i + 1}']:f}" for i in range(test.readings)
                ],
                "resources": [*self.rigs],
            }
            for test in self.part.tests
        ]

    def read_back(self, desk: Desk) -> str:  # noqa: ARG002 - it knows all it says
        """Say the readings, and whether they pass."""
        said = []
        for test in self.part.tests:
            values = [self.numbers[f"{test.name} {i + 1}"] for i in range(test.readings)]
            low_ok = test.min is None or min(values) >= test.min
            passes = low_ok and (test.max is None or max(values) <= test.max)
            shown_values = ", ".join(f"{value:f}" for value in values)
            said.append(
                f"{test.name} {shown_values} {test.unit}: {'passes' if passes else 'FAILS'}"
            )
        return f"{self.unit.code} {'; '.join(said)}"
