"""A works of pumps to report on, and its containment as the reports take it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.uses.asking.where import Question
from lotkin.uses.reporting.report_data import containment_data
from lotkin_labels.reports import ContainmentReport
from tests.small_works import PLAN, Works

if TYPE_CHECKING:
    from lotkin_labels.reports import DecisionRecord

__all__ = ["pumps", "report_on", "serials"]


def serials(count: int) -> list[str]:
    """Name the pumps."""
    return [f"PUMP-{number:04}" for number in range(1, count + 1)]


def pumps(count: int, *, plan: str = PLAN, shipped: int = 0, reference: str = "") -> Works:
    """Build pumps from one run; some are shipped to the clinic in one carton."""
    works = Works(plan=plan)
    works.bar("BAR-A", 10, heat="H48")
    works.make({"TIP-1": 2 * count + 10}, {"BAR-A": 5}, run="RUN-1")
    works.receive("SCREWS-1", 4 * count + 10)
    works.mount(
        {
            "P1": {"item": "TIP-1", "origin": "FLOOR", "quantity": 2 * count + 10},
            "P2": {"item": "SCREWS-1", "origin": "SHELF", "quantity": 4 * count + 10},
        }
    )
    for serial in serials(count):
        works.build(serial)
    for serial in serials(shipped):
        works.test(serial)
    if shipped:
        works.pack("CARTON-1", serials(shipped))
        works.ship("SHIP-1", "CARTON-1", reference=reference)
    return works


def report_on(
    works: Works,
    *codes: str,
    question: Question | None = None,
    reason: str = "",
    decisions: tuple[DecisionRecord, ...] = (),
) -> ContainmentReport:
    """Ask for a containment, for a report."""
    asked = question or Question()
    data = containment_data(works.store, codes, asked)
    return ContainmentReport(
        found=data.found,
        head_number=data.head_number,
        head_hash=data.head_hash,
        plan=data.plan,
        reason=reason,
        min_content=asked.min_content,
        written_at=works.clock(),
        decisions=decisions,
    )
