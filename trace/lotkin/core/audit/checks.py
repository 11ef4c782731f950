"""All checks, in the order in which their gaps are listed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.audit.documents import ALTERED, MISSING, altered_documents, missing_documents
from lotkin.core.audit.genealogy import (
    backward_times,
    missing_certificates,
    missing_components,
    skipped_steps,
    unidentified_lots,
)
from lotkin.core.audit.keeping import (
    long_holds,
    negative_stock,
    overdue_outside,
    stale_stock,
    surplus_stock,
    unknown_places,
)
from lotkin.core.audit.working import (
    broken_rules,
    due_soon,
    idle_resources,
    past_due,
    unfinished_travellers,
    used_past_due,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Collection

    from lotkin.core.audit.gap import Gap, Limits
    from lotkin.core.audit.survey import Survey

    Check = Callable[[Survey, Limits], list[Gap]]

__all__ = ["CHECKS", "KINDS_OF_GAPS", "find_gaps"]

CHECKS: dict[str, Check] = {
    "component-missing": missing_components,
    "certificate-missing": missing_certificates,
    MISSING: missing_documents,
    ALTERED: altered_documents,
    "step-skipped": skipped_steps,
    "rule-broken": broken_rules,
    "time-backwards": backward_times,
    "stock-negative": negative_stock,
    "stock-surplus": surplus_stock,
    "place-unknown": unknown_places,
    "used-past-due": used_past_due,
    "past-due": past_due,
    "due-soon": due_soon,
    "outside-overdue": overdue_outside,
    "held-long": long_holds,
    "found-not-identified": unidentified_lots,
    "traveller-open": unfinished_travellers,
    "resource-unused": idle_resources,
    "stock-stale": stale_stock,
}
"""The check that finds a kind of gap."""

KINDS_OF_GAPS = tuple(CHECKS)


def find_gaps(survey: Survey, limits: Limits, kinds: Collection[str] = ()) -> list[Gap]:
    """Run the checks for some kinds of gaps; for all kinds if none is named."""
    return [
        gap
        for kind, check in CHECKS.items()
        if not kinds or kind in kinds
        for gap in check(survey, limits)
    ]
