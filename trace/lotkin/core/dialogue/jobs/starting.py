"""Which work begins with which scan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.dialogue.doubts import problem_of_new_code
from lotkin.core.dialogue.jobs.bench import MountWork
from lotkin.core.dialogue.jobs.goods import PackWork, ShipWork
from lotkin.core.dialogue.jobs.outside import BackWork, SendWork
from lotkin.core.dialogue.jobs.step import StepWork
from lotkin.core.dialogue.jobs.store import BlendWork, CountWork, MoveWork, ReceiveWork
from lotkin.core.dialogue.jobs.unit import BuildWork, TestWork, bench_here, unit_part_of
from lotkin.core.dialogue.reply import Reply
from lotkin.core.rules.known_otherwise import named_or_issued
from lotkin.core.scan.commands import ScanCommand

if TYPE_CHECKING:
    from lotkin.core.dialogue.desk import Desk
    from lotkin.core.dialogue.jobs.job import Known, Work
    from lotkin.core.dialogue.words import Word
    from lotkin.core.plan import PartPlan

__all__ = ["begin", "doubt_of_beginning"]

BY_CARD: dict[ScanCommand, type[Work]] = {
    ScanCommand.RECEIVE: ReceiveWork,
    ScanCommand.BLEND: BlendWork,
    ScanCommand.COUNT: CountWork,
    ScanCommand.MOVE: MoveWork,
    ScanCommand.PACK: PackWork,
    ScanCommand.SHIP: ShipWork,
}


def begin(word: Word, known: Known, desk: Desk) -> Work | Reply:
    """Begin the work that a scan means, or say why none begins."""
    if word.command is not None:
        card = BY_CARD.get(word.command)
        return (
            card(known) if card is not None else Reply.refused(f"{word.text}: nothing is in hand")
        )
    if word.step is not None:
        return _begin_step(word, known, desk)
    if word.spot is not None:
        if desk.plan.bench(word.spot.bench) is None:
            return Reply.refused(f"bench {word.spot.bench} is not in the plan")
        return MountWork(known, word.spot)
    if word.item is not None:
        return _begin_item(word, known, desk)
    if word.label is not None:
        return ReceiveWork(known)
    return _begin_serial(word, known, desk)


def _begin_step(word: Word, known: Known, desk: Desk) -> Work | Reply:
    assert word.step is not None
    part = desk.traveller_part(word.step.traveller)
    step = desk.step(word.step.traveller, word.step.step)
    if part is None or step is None:
        return Reply.refused(f"{word.text}: the plan has no such step")
    if step.run == "outside-batch":
        return SendWork(known, word.step, part, step)
    return StepWork(known, word.step, part, step)


def _begin_item(word: Word, known: Known, desk: Desk) -> Work | Reply:
    item = word.item
    assert item is not None
    if item.kind == "outside-batch":
        return BackWork(known, item)
    part = desk.plan.part(item.part)
    if item.kind == "unit" and part is not None and part.tests:
        return TestWork(known, item, part)
    return Reply.refused(
        f"{item.code} alone begins nothing", "scan a step, a bench position or a card first"
    )


def _begin_serial(word: Word, known: Known, desk: Desk) -> Work | Reply:
    bench = bench_here(desk)
    if not word.is_new_code or bench is None:
        if word.candidates:
            return Reply.refused(f"{word.text} fits {', '.join(word.candidates[:6])}")
        other = named_or_issued(desk.view, desk.plan, word.text)
        if other is not None:
            return Reply.refused(other.message, "scan a step, a bench position or a card first")
        return Reply.refused(f"{word.text} is not recorded")
    part = unit_part_of(bench, desk)
    if part is None:
        return Reply.refused(f"the plan does not say which unit {bench.code} builds")
    problem = "" if desk.late else problem_of_new_code(word.text, *_serials_of(part), desk)
    if problem:
        return Reply.refused(problem)
    return BuildWork(known, word.text, bench, part)


def _serials_of(part: PartPlan) -> tuple[tuple[str, ...], str]:
    return part.serials, f"serials of {part.code}"


def doubt_of_beginning(word: Word, desk: Desk) -> str:
    """Ask about a code that would be a new unit, where the plan does not say how serials are."""
    known = word.command or word.step or word.spot or word.item or word.label
    bench = bench_here(desk)
    if known or not word.is_new_code or bench is None:
        return ""
    part = unit_part_of(bench, desk)
    if part is None or part.serials:
        return ""
    if problem_of_new_code(word.text, *_serials_of(part), desk):
        return ""
    return f"{word.text} is not recorded. A new {part.name} with this serial?"
