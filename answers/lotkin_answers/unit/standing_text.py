"""How a unit stands, in one line: with whom it is, and which cases it is in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.instants import show_instant
from lotkin_answers.words import moment

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.cases.membership import InCase
    from lotkin.uses.complaints.complaint import Complaint
    from lotkin.uses.complaints.history import Went
    from lotkin_answers.json_document import Data
    from lotkin_answers.places import Places

__all__ = ["cases_data", "in_case", "is_back", "standing"]


def standing(found: Complaint, places: Places) -> str:
    """Say to whom a unit was shipped and when, in which cases it is, and whether it is back."""
    said = [_way(found, places)]
    said += [in_case(each, places) for each in found.cases] or ["in no case"]
    return "; ".join(said)


def in_case(one: InCase, places: Places) -> str:
    """Say in which case something is, and what was decided on it there."""
    state = "closed" if one.case.closed_by else "open"
    decision = one.decision
    if decision is None:
        return f"in {one.case.code} ({state}): not decided"
    day = moment(decision.at, places.zone)[:10]
    return f"in {one.case.code} ({state}): {decision.decision}, decided by {decision.by} on {day}"


def is_back(found: Complaint) -> bool | None:
    """Tell whether a unit came back after it was last shipped; None if it never was shipped."""
    shipped, returned = _last(found.went, "shipped"), _last(found.went, "returned")
    if shipped is None:
        return None
    return returned is not None and returned.event > shipped.event


def cases_data(cases: Sequence[InCase]) -> list[Data]:
    """Describe the cases that something is in."""
    return [
        {
            "case": each.case.code,
            "open": not each.case.closed_by,
            "reason": each.case.reason,
            "decision": None if each.decision is None else each.decision.decision,
            "decided_by": None if each.decision is None else each.decision.by,
            "decided_at": None if each.decision is None else show_instant(each.decision.at),
            "decision_reason": None if each.decision is None else each.decision.reason,
        }
        for each in cases
    ]


def _last(went: Sequence[Went], what: str) -> Went | None:
    return max((w for w in went if w.what == what), key=lambda w: w.event, default=None)


def _way(found: Complaint, places: Places) -> str:
    shipped, returned = _last(found.went, "shipped"), _last(found.went, "returned")
    if shipped is None:
        return "no shipment of it is recorded"
    to = places.titled(shipped.customer) if shipped.customer else "somebody not recorded"
    said = f"shipped to {to} on {moment(shipped.at, places.zone)[:10]}"
    if returned is not None and returned.event > shipped.event:
        return f"{said}, back on {moment(returned.at, places.zone)[:10]}"
    return f"{said}, not recorded as back"
