"""What a containment report says beside the answer itself."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.answers.left_out import said_of
from lotkin.core.answers.window import Window
from lotkin.core.values.zone import zone_of
from lotkin_answers.containment_words import DUTY

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.answers.containment import Containment
    from lotkin.core.journal.seals import SealOf
    from lotkin.core.plan import ShopPlan

__all__ = ["CAUTION", "ContainmentReport", "DecisionRecord", "left_out_facts"]

CAUTION = f"This report gives the record, not the judgement. {DUTY}"


@dataclass(frozen=True, slots=True, kw_only=True)
class DecisionRecord:
    """What was decided on a member, or on part of it.

    Attributes:
        member: Code or serial.
        quantity: With its unit; "" for all of it.
        decided_on: Day or moment per ISO 8601.
    """

    member: str
    decision: str
    person: str
    reason: str
    quantity: str = ""
    decided_on: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ContainmentReport:
    """A containment, ready to be written down.

    Attributes:
        found: The answer.
        head_number, head_hash: Last row of the journal when it was asked.
        seal: The newest seal of the journal; None for none.
        plan: The plan in force, for names and the time zone; None for none.
        case: Code of the case; "" if none was opened.
        reason: Why it was asked; "" if not given.
        window: Microseconds UTC of the span that was asked for; None for an open end.
        families, kinds: What the list of members was narrowed to; empty for all.
        min_content: The threshold on the content; None for none.
        written_at: Microseconds UTC.
        decisions: In the order of the journal; may be empty.
        undecided: Members of the case that wait for a decision.
    """

    found: Containment
    head_number: int
    head_hash: str
    seal: SealOf | None = None
    plan: ShopPlan | None = None
    case: str = ""
    reason: str = ""
    window: tuple[int | None, int | None] = (None, None)
    families: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()
    min_content: float | None = None
    written_at: int | None = None
    decisions: tuple[DecisionRecord, ...] = ()
    undecided: tuple[str, ...] = ()

    @property
    def subjects(self) -> str:
        """Codes of the subjects, with commas."""
        return ", ".join(item.code for item in self.found.answer.subjects)


def left_out_facts(report: ContainmentReport) -> Iterator[tuple[str, str]]:
    """Say which of the items asked about the span leaves out."""
    window = Window(*report.window)
    zone = zone_of(report.plan.timezone) if report.plan is not None else None
    for one in report.found.answer.outside:
        yield "left out by the time", said_of(one, window, zone)
