"""Cases as documents."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.answers.whereabouts import serials_of
from lotkin.core.values.instants import show_instant
from lotkin_answers.documents.answers import account_data, expected_data

if TYPE_CHECKING:
    from lotkin.core.answers.containment import Containment
    from lotkin.core.cases.membership import Case
    from lotkin.uses.cases.case_work import CaseShown
    from lotkin_answers.json_document import Data, Value

__all__ = ["at_customers", "at_unknown_places", "case_data", "case_document", "scope_data"]


def case_data(case: Case, left: int) -> Data:
    """Describe a case in short."""
    return {
        "case": case.code,
        "state": "closed" if case.closed_by else "open",
        "undecided": left,
        "opened": show_instant(case.at),
        "by": case.by,
        "subjects": list(case.subjects),
        "reason": case.reason,
    }


def case_document(shown: CaseShown) -> Data:
    """Describe a case with all that it holds."""
    decisions: list[Value] = [
        {
            "member": one.item,
            "decision": one.decision,
            "by": one.by,
            "at": show_instant(one.at),
            "reason": one.reason,
        }
        for one in shown.decisions.values()
    ]
    return {
        **case_data(shown.case, len(shown.undecided)),
        "members": list(shown.members),
        "undecided_members": list(shown.undecided),
        "decisions": decisions,
        "units": shown.containment.units,
        **expected_data(shown.containment),
        "at_most_units": shown.containment.at_most_units,
        "accounts": [account_data(account) for account in shown.containment.accounts],
    }


def scope_data(found: Containment) -> Data:
    """Describe how far a scope reaches."""
    return {
        "subjects": [item.code for item in found.answer.subjects],
        "units": found.units,
        **expected_data(found),
        "at_most_units": found.at_most_units,
        "units_at_customers": at_customers(found),
        "customers": len(found.customers),
        "units_at_unknown_places": at_unknown_places(found),
    }


def at_customers(found: Containment) -> int:
    """Count the units of a containment that customers have."""
    return len(serials_of([row for rows in found.customers.values() for row in rows]))


def at_unknown_places(found: Containment) -> int:
    """Count the units of a containment at places of which nobody knows what they are."""
    return len(serials_of([row for rows in found.unknown_places.values() for row in rows]))
