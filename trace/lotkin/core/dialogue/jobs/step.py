"""A step of a route in the works: what went in, with what, how many came out, what was measured."""

from __future__ import annotations

from dataclasses import replace
from decimal import ROUND_CEILING, Decimal
from typing import TYPE_CHECKING, ClassVar

from lotkin.core.dialogue.doubts import MORE_THAN_ORDERED
from lotkin.core.dialogue.jobs.job import (
    Known,
    Work,
    all_of,
    codes_after,
    free_code,
    shown,
    stock_slot,
)
from lotkin.core.dialogue.number_slot import NumberSlot
from lotkin.core.plan.bar_yield import bars_for, pieces_from
from lotkin.core.rules.serialised import carries_serial
from lotkin.core.scan.commands import ScanCommand
from lotkin.core.values.amounts import show_limits
from lotkin.core.values.instants import show_instant
from lotkin.core.values.kinds import Family
from lotkin.core.values.quantities import from_micro, to_micro

if TYPE_CHECKING:
    from lotkin.core.dialogue.desk import Desk
    from lotkin.core.dialogue.reply import Reply
    from lotkin.core.dialogue.words import Word
    from lotkin.core.genealogy.items import Item
    from lotkin.core.plan import PartPlan, StepPlan
    from lotkin.core.scan.commands import TravellerStep
    from lotkin.core.values.canonical import Json

__all__ = ["StepWork", "step_input_problem"]

NONE = Decimal(0)


def step_input_problem(item: Item, part: PartPlan, step: StepPlan, desk: Desk) -> str:
    """Say why an item cannot go into a step; "" if it can."""
    before = desk.plan.previous_step(part.code, step.code)
    if item.part == part.code and item.part not in step.inputs:
        wanted = before.code if before is not None else ""
        if item.step != wanted and not desk.late:
            return (
                f"{item.code} has passed step {item.step or 'none'}; "
                f"step {step.code} follows step {wanted or 'none'}"
            )
    elif item.part not in step.inputs:
        allowed = ", ".join(step.inputs) or part.code
        return f"{shown(item)} does not go into step {step.code}; it takes {allowed}"
    reason = desk.why_not(item, "used")
    if reason:
        return reason
    return "" if desk.has_left(item) else f"none of {item.code} is left"


class StepWork(Work):
    """A run in the works."""

    title: ClassVar[str] = "step"

    def __init__(self, known: Known, where: TravellerStep, part: PartPlan, step: StepPlan) -> None:
        super().__init__(known)
        self.where, self.part, self.step = where, part, step
        self.inputs: list[Item] = []
        self.resources: list[Item] = []
        self.question: Item | None = None
        self.serial = ""

    def doubt(self, word: Word, desk: Desk) -> str:
        """Ask about what stands elsewhere, and about what the step does not need."""
        item = word.item
        if item is None or item.family is not Family.RESOURCE or self.expects_number(desk):
            return super().doubt(word, desk)
        place = desk.plan.place(desk.place_of(item))
        if place is not None and place.kind == "station" and place.code != desk.station:
            return f"{item.kind} {item.code} stands at {place.code}, not at {desk.station}"
        if item.kind != "gauge" and item.kind not in self.step.resources:
            return f"step {self.step.code} asks for no {item.kind}"
        return ""

    def take(self, word: Word, desk: Desk) -> Reply | None:
        """Take inputs, resources, scrap and samples."""
        if word.command in (ScanCommand.SCRAP, ScanCommand.SAMPLE):
            self.aside = "scrap" if word.command is ScanCommand.SCRAP else "samples"
            return self.ok(f"{self.aside}:", desk)
        if self.question is not None and word.command in (ScanCommand.MIX, ScanCommand.APART):
            return self._answer(word.command, desk)
        if word.step == self.where:
            return self.ok(self._name(), desk)
        if word.item is None and word.is_new_code and self._has_serial(desk):
            self.serial = word.text
            return self.ok(f"serial {word.text}", desk)
        if word.item is None:
            return None
        if word.item.family is Family.RESOURCE:
            return self._take_resource(word.item, desk)
        return self._take_input(word.item, desk)

    def opening(self, word: Word, desk: Desk) -> Reply:  # noqa: ARG002 - the step is known
        """Name the step, and take the machine and tools of before where the step needs them."""
        for code in self.known.last_resources:
            item = desk.view.item(code)
            wanted = item is not None and item.kind in self.step.resources
            if item is None or not wanted or desk.why_not(item, "used in a run"):
                continue
            if desk.place_of(item) in ("", desk.station) or item.kind != "machine":
                self.resources.append(item)
        before = ", ".join(f"{item.kind} {item.code}" for item in self.resources)
        return self.ok(self._name() + (f"; {before} as before" if before else ""), desk)

    def _name(self) -> str:
        return f"{self.where.traveller} step {self.step.code} {self.step.name}, {self.part.name}"

    def _take_resource(self, item: Item, desk: Desk) -> Reply:
        reason = desk.why_not(item, "used in a run")
        if reason:
            return self.refuse(reason, desk)
        self.resources = [known for known in self.resources if known.kind != item.kind]
        self.resources.append(item)
        return self.ok(f"{item.kind} {item.code}", desk)

    def _take_input(self, item: Item, desk: Desk) -> Reply:
        if any(item.code == known.code for known in self.inputs):
            return self.ok(f"{item.code} is scanned already", desk)
        problem = step_input_problem(item, self.part, self.step, desk)
        if problem:
            return self.refuse(problem, desk)
        if self.inputs and self._source(item, desk) != self._source(self.inputs[0], desk):
            self.question = item
            return self.ok(f"{item.code} is of another source than {self.inputs[0].code}", desk)
        self.inputs.append(item)
        return self.ok(shown(item), desk)

    def _source(self, item: Item, desk: Desk) -> frozenset[str]:
        """Name the heats and lots that a raw material is of; a lot of the route is its own."""
        if item.part == self.part.code:
            return frozenset({item.code})
        parents = {link.parent for link in desk.view.parents(item.code)}
        kinds = {code: found.kind for code in parents if (found := desk.view.item(code))}
        sources = {code for code, kind in kinds.items() if kind in ("heat", "source-lot")}
        return frozenset(sources or {item.code})

    def choices(self) -> tuple[ScanCommand, ...]:
        """Mix or keep apart, while that is the question."""
        return (ScanCommand.MIX, ScanCommand.APART) if self.question is not None else ()

    def cautions(self) -> tuple[str, ...]:
        """List what the plan warns of in this step."""
        return self.step.cautions

    def _answer(self, command: ScanCommand, desk: Desk) -> Reply:
        item, self.question = self.question, None
        assert item is not None
        if command is ScanCommand.MIX:
            self.inputs.append(item)
            return self.ok(
                f"{item.code} mixed in: nobody will know which piece is from which", desk
            )
        return self.ok(f"{item.code} kept apart: confirm this lot first, then scan it again", desk)

    def _has_serial(self, desk: Desk) -> bool:
        """Tell whether what this step brings forth is one piece with a serial."""
        return carries_serial(desk.plan, self.part.code, self.step.code)

    def lacks(self, desk: Desk) -> str:
        """Ask for input and resources, and for the serial of a piece that has one."""
        if self.question is not None:
            return f"mix {self.question.code} into this lot, or keep it apart? scan MIX or APART"
        if not self.inputs:
            return f"scan what goes in: {', '.join(self.step.inputs) or self.part.code}"
        kinds = [item.kind for item in self.resources]
        missing = [kind for kind in self.step.resources if kind not in kinds]
        if missing:
            return f"scan the {missing[0]}"
        known = self.serial or any(item.serial for item in self.inputs)
        return "scan the serial of the piece" if self._has_serial(desk) and not known else ""

    def slots(self, desk: Desk) -> list[NumberSlot]:
        """Ask for the good pieces, what was taken, and what the step measures."""
        in_pieces = all(item.unit == "pcs" for item in self.inputs)
        single = len(self.inputs) == 1
        slots = [self._good_slot(desk)]
        if not (in_pieces and single):
            slots += [
                replace(
                    stock_slot(f"take {item.code}", f"{item.unit} of {item.code}?", item, desk),
                    proposal=self._taken(item, desk),
                )
                for item in self.inputs
            ]
        low, high = self.step.min_celsius, self.step.max_celsius
        if low is not None or high is not None:
            limits = show_limits(low, high, "°C")
            slots.append(NumberSlot("celsius", f"temperature ({limits})?", low=low, high=high))
        for measure in self.step.measures:
            if measure.required:
                limits = show_limits(measure.min, measure.max, measure.unit)
                prompt = f"{measure.name} ({limits})?" if limits else f"{measure.name}?"
                name = f"measure {measure.name}"
                slots.append(NumberSlot(name, prompt, low=measure.min, high=measure.max))
        return slots

    def _good_slot(self, desk: Desk) -> NumberSlot:
        """Ask for the good pieces, bounded by the order and by what lies here or was taken."""
        if self._has_serial(desk):
            why = "each piece has a serial of its own"
            return NumberSlot("good", "good pcs?", Decimal(1), most=Decimal(1), why=why)
        unit = self.part.unit
        ordered, made = desk.ordered(self.where.traveller), self._made_before(desk)
        still_open = from_micro(max(ordered - made, 0))
        most = (from_micro(ordered) * MORE_THAN_ORDERED - from_micro(made)).max(NONE)
        before = f", {from_micro(made):f} are made already" if made else ""
        why = f"the order is {from_micro(ordered):f} {unit}{before}"
        proposal = None
        there = self._enough_for(desk)
        if there is not None:
            if len(self.inputs) == 1 and self.inputs[0].unit == "pcs":
                proposal = min(there, still_open) or None
            if there < most:
                most, why = there, f"what lies here is enough for {there:f} {unit}"
        return NumberSlot("good", f"good {unit}?", proposal, most, why)

    def _made_before(self, desk: Desk) -> int:
        """Give the millionths that this step of the traveller has brought forth already."""
        base = f"{self.where.traveller}-{self.step.code}"
        made = 0
        for code in codes_after(base):
            item = desk.view.item(code)
            if item is None:
                break
            made += item.quantity or 0
        return made

    def _enough_for(self, desk: Desk) -> Decimal | None:
        """Give how many pieces the inputs are enough for; None if the plan does not know."""
        bar = self.part.bar
        total = NONE
        for item in self.inputs:
            there = all_of(item, desk)
            if item.kind == "bar-lot" and bar is not None:
                pieces = pieces_from(bar, to_micro(there), item.unit)
                if pieces is None:
                    return None
                total += pieces
            elif item.unit == "pcs":
                total += there
            else:
                return None
        return total if self.inputs else None

    def _made(self) -> Decimal:
        numbers = self.numbers
        return numbers.get("good", NONE) + numbers.get("scrap", NONE) + numbers.get("samples", NONE)

    def _taken(self, item: Item, desk: Desk) -> Decimal | None:
        """Propose how much was taken: of bar by the length of a part, else all there is."""
        there = all_of(item, desk)
        bar = self.part.bar
        if item.unit == "m" and bar is not None and self._made():
            each = (self._made() / len(self.inputs)).to_integral_value(rounding=ROUND_CEILING)
            bars = bars_for(bar, int(each))
            return there if bars is None else min(there, bars * bar.length_mm / 1000)
        return there

    def _lot(self, desk: Desk) -> str:
        return free_code(f"{self.where.traveller}-{self.step.code}", desk)

    def events(self, desk: Desk) -> list[dict[str, Json]]:
        """Give the run with its lot."""
        lot = self._lot(desk)
        numbers = self.numbers
        run: dict[str, Json] = {"code": f"{lot}-RUN", "run_kind": self.step.run}
        if self.resources:
            run["resources"] = [item.code for item in self.resources]
        if self.known.started is not None:
            run["started"] = show_instant(self.known.started)
        if "celsius" in numbers:
            run["celsius"] = f"{numbers['celsius']:f}"
        measures: dict[str, Json] = {
            key.removeprefix("measure "): f"{value:f}"
            for key, value in numbers.items()
            if key.startswith("measure ")
        }
        if measures:
            run["measures"] = measures
        made: dict[str, Json] = {
            "code": lot,
            "part": self.part.code,
            "quantity": f"{numbers['good']:f}",
            **({"serial": self.serial} if self.serial else {}),
        }
        event: dict[str, Json] = {
            "kind": "make",
            "traveller": self.where.traveller,
            "step": self.step.code,
            "run": run,
            "inputs": [self._input(item, desk) for item in self.inputs],
            "outputs": [made],
        }
        for end in ("scrap", "samples"):
            if numbers.get(end):
                event[end] = f"{numbers[end]:f}"
        return [event]

    def _input(self, item: Item, desk: Desk) -> dict[str, Json]:
        taken = self.numbers.get(f"take {item.code}", self._made())
        row: dict[str, Json] = {"item": item.code, "quantity": f"{taken:f}"}
        place = desk.place_of(item)
        if place:
            row["place"] = place
        bar = self.part.bar
        if item.unit == "m" and bar is not None:
            net = self._made() * bar.part_mm / 1000 / len(self.inputs)
            loss = taken - net
            if loss > 0:
                row["loss"] = f"{round(loss, 6):f}"
        return row

    def read_back(self, desk: Desk) -> str:
        """Say lot, quantity and inputs."""
        inputs = ", ".join(item.code for item in self.inputs)
        rest = "".join(
            f", {self.numbers[end]:f} {end}"
            for end in ("scrap", "samples")
            if self.numbers.get(end)
        )
        good = self.numbers.get("good", NONE)
        return (
            f"{self._lot(desk)}: {good:f} {self.part.unit} of {self.part.code} from {inputs}{rest}"
        )
