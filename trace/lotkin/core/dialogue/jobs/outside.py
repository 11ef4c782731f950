"""Trays go to an outside service, and come back: apart, or tipped together."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, ClassVar

from lotkin.core.dialogue.jobs.job import Known, Work, free_code, shown, stock_slot
from lotkin.core.dialogue.jobs.step import step_input_problem
from lotkin.core.dialogue.number_slot import NumberSlot
from lotkin.core.rules.outside_services import service_of_step
from lotkin.core.scan.commands import ScanCommand
from lotkin.core.values.places import Spot
from lotkin.core.values.quantities import from_micro, to_micro

if TYPE_CHECKING:
    from lotkin.core.dialogue.desk import Desk
    from lotkin.core.dialogue.reply import Reply
    from lotkin.core.dialogue.words import Word
    from lotkin.core.genealogy.items import Item
    from lotkin.core.plan import PartPlan, StepPlan
    from lotkin.core.scan.commands import TravellerStep
    from lotkin.core.values.canonical import Json

__all__ = ["BackWork", "SendWork"]


class SendWork(Work):
    """A dispatch of one or more trays."""

    title: ClassVar[str] = "send"

    def __init__(self, known: Known, where: TravellerStep, part: PartPlan, step: StepPlan) -> None:
        super().__init__(known)
        self.where, self.part, self.step = where, part, step
        self.trays: list[Item] = []

    def take(self, word: Word, desk: Desk) -> Reply | None:
        """Take trays; a step of another traveller with the same service goes along."""
        if word.step is not None:
            return self.ok(f"to {self.step.at}", desk)
        if word.item is None:
            return None
        if any(word.item.code == tray.code for tray in self.trays):
            return self.ok(f"{word.item.code} is scanned already", desk)
        problem = step_input_problem(word.item, self.part, self.step, desk)
        if problem:
            return self.refuse(problem, desk)
        self.trays.append(word.item)
        return self.ok(shown(word.item), desk)

    def cautions(self) -> tuple[str, ...]:
        """List what the plan warns of in this step."""
        return self.step.cautions

    def lacks(self, desk: Desk) -> str:  # noqa: ARG002 - a tray is all that is needed
        """Ask for a tray."""
        return "" if self.trays else f"scan the trays for {self.step.at}"

    def slots(self, desk: Desk) -> list[NumberSlot]:
        """Ask how many of each tray go."""
        return [
            stock_slot(f"tray {tray.code}", f"how many of {tray.code}?", tray, desk)
            for tray in self.trays
        ]

    def _batch(self) -> str:
        return f"OUT-{self.own_code()}"

    def events(self, desk: Desk) -> list[dict[str, Json]]:
        """Give the dispatch."""
        event: dict[str, Json] = {
            "kind": "send",
            "batch": self._batch(),
            "supplier": self.step.at,
            "step": self.step.code,
            "inputs": [
                {
                    "item": tray.code,
                    "quantity": f"{self.numbers[f'tray {tray.code}']:f}",
                    "place": desk.place_of(tray) or desk.station,
                }
                for tray in self.trays
            ],
        }
        service = service_of_step(desk.plan, self.step.at, self.step.name)
        return [{**event, "service": service} if service else event]

    def read_back(self, desk: Desk) -> str:  # noqa: ARG002 - it knows all it says
        """Say batch, service and trays."""
        trays = ", ".join(f"{self.numbers[f'tray {t.code}']:f} of {t.code}" for t in self.trays)
        return f"{self._batch()} to {self.step.at}: {trays}"


class BackWork(Work):
    """What came back from an outside batch, tray by tray."""

    title: ClassVar[str] = "take back"

    def __init__(self, known: Known, batch: Item) -> None:
        super().__init__(known)
        self.batch = batch
        self.lots: list[Item] = []
        self.mixed = False
        self.returns: list[tuple[list[Item], Decimal]] = []
        self.close = False
        self.surplus = Decimal(0)

    def take(self, word: Word, desk: Desk) -> Reply | None:
        """Take trays and whether they were tipped together."""
        if word.command is ScanCommand.CLOSE:
            self.close = True
            return self.ok("nothing more will come back", desk)
        if word.command is ScanCommand.MIX and len(self.lots) > 1:
            self.mixed = True
            return self.ok("tipped together", desk)
        if word.command is ScanCommand.APART and len(self.lots) > 1:
            self.lots = self.lots[:1]
            return self.ok(f"apart: first {self.lots[0].code}, then the others", desk)
        if word.item is None or word.command is not None:
            return None
        if word.item.code == self.batch.code:
            return self.ok(f"batch {self.batch.code}", desk)
        if word.item.code not in self._out(desk):
            return self.refuse(f"{word.item.code} is not out with {self.batch.code}", desk)
        if all(word.item.code != lot.code for lot in self.lots):
            self.lots.append(word.item)
        return self.ok(shown(word.item), desk)

    def choices(self) -> tuple[ScanCommand, ...]:
        """Tipped together or apart, while that is the question."""
        if len(self.lots) > 1 and not self.mixed:
            return (ScanCommand.MIX, ScanCommand.APART)
        return ()

    def _out(self, desk: Desk) -> dict[str, int]:
        """Map lots to what is still out with the batch, less what is in hand already."""
        spot = Spot(self.batch.supplier, self.batch.code)
        out = {code: q for code, where, q in desk.view.within(self.batch.code) if where == spot}
        for lots, pieces in self.returns:
            left = to_micro(pieces)
            for lot in lots:
                taken = min(left, max(out.get(lot.code, 0), 0))
                out[lot.code] = out.get(lot.code, 0) - taken
                left -= taken
        return out

    def lacks(self, desk: Desk) -> str:  # noqa: ARG002 - it knows its trays
        """Ask for a tray, or how two were kept."""
        if len(self.lots) > 1 and not self.mixed:
            names = " and ".join(lot.code for lot in self.lots)
            return f"were {names} tipped together? scan MIX or APART"
        if not self.lots and not self.returns and not self.close:
            return "scan a tray that came back"
        return ""

    def slots(self, desk: Desk) -> list[NumberSlot]:
        """Ask how many came back of the trays in hand."""
        if not self.lots:
            return []
        out = self._out(desk)
        proposal = from_micro(sum(max(out.get(lot.code, 0), 0) for lot in self.lots))
        names = " and ".join(lot.code for lot in self.lots)
        return [
            NumberSlot(
                f"back {len(self.returns)}",
                f"how many of {names}?",
                proposal,
                most=proposal,
                why=f"{proposal:f} of {names} are out; count again, and look for pieces of others",
            )
        ]

    def take_number(self, number: Decimal | None, desk: Desk) -> Reply | None:
        """Take a count; the trays in hand are a return then."""
        slot = self.open_slot(desk)
        if slot is None or self.lacks(desk):
            return None
        value = number if number is not None else slot.proposal
        if value is None:
            return None
        self.surplus += max(value - (slot.most or value), Decimal(0))
        self.returns.append((self.lots, value))
        self.lots, self.mixed = [], False
        return self.ok(f"{value:f} came back; scan the next tray, CLOSE, or confirm", desk)

    def _code(self, lots: list[Item], desk: Desk, taken: set[str]) -> str:
        first = lots[0]
        stem = first.code
        for ending in (f"-{first.step}",):
            stem = stem.removesuffix(ending)
        step = self.batch.step or "OUT"
        code = free_code(f"{stem}-{step}", desk)
        while code in taken:
            code += "B"
        return code

    def events(self, desk: Desk) -> list[dict[str, Json]]:
        """Give what was taken back."""
        taken: set[str] = set()
        returns: list[Json] = []
        for lots, count in self.returns:
            code = self._code(lots, desk, taken)
            taken.add(code)
            of: list[Json] = [{"item": lot.code} for lot in lots]
            returns.append(
                {"output": {"code": code, "part": lots[0].part, "quantity": f"{count:f}"}, "of": of}
            )
        event: dict[str, Json] = {"kind": "take-back", "batch": self.batch.code}
        if returns:
            event["returns"] = returns
        if self.close:
            event["close"] = True
        if self.surplus:
            event["reported"] = True
        return [event]

    def read_back(self, desk: Desk) -> str:  # noqa: ARG002 - it knows all it says
        """Say what came back."""
        back = ", ".join(
            f"{count:f} of {' and '.join(lot.code for lot in lots)}" for lots, count in self.returns
        )
        more = (
            f"; {self.surplus:f} more than went out, so all of it is held" if self.surplus else ""
        )
        closing = "; closed, what is missing is lost" if self.close else ""
        return f"back from {self.batch.supplier}: {back or 'nothing'}{more}{closing}"
