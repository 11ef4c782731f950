"""Answers as the reports take them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from lotkin.uses.asking.where import Question
from lotkin_answers.places import Places
from lotkin_answers.words import moment
from lotkin_labels.paper.wording import show_day
from lotkin_labels.reports import (
    ContainmentReport,
    CustomerNotice,
    CustomerReport,
    DecisionRecord,
    HeldItem,
)

if TYPE_CHECKING:
    from lotkin.core.plan import ShopPlan
    from lotkin.uses.reporting.customer_data import CustomerData
    from lotkin.uses.reporting.report_data import CaseData, ContainmentData

__all__ = ["case_report", "containment_report", "customer_report"]


def containment_report(
    data: ContainmentData, question: Question, reason: str, written_at: int
) -> ContainmentReport:
    """Make the report of a containment; it says when it was written (microseconds, UTC)."""
    window = question.window
    return ContainmentReport(
        found=data.found,
        head_number=data.head_number,
        head_hash=data.head_hash,
        seal=data.seal,
        plan=data.plan,
        reason=reason,
        window=(None, None) if window is None else (window.start, window.end),
        families=tuple(sorted(question.families)),
        kinds=tuple(sorted(question.kinds)),
        min_content=question.min_content,
        written_at=written_at,
    )


def case_report(data: CaseData, written_at: int) -> ContainmentReport:
    """Make the report of a case; its decisions in the order of the journal."""
    shown, case = data.shown, data.shown.case
    question = Question(window=case.window, min_content=case.min_content)
    zone = Places(data.containment.plan).zone
    decided = sorted(shown.decisions.values(), key=lambda one: (one.event, one.item))
    return replace(
        containment_report(data.containment, question, case.reason, written_at),
        case=f"{case.code}, {'closed' if case.closed_by else 'open'}",
        decisions=tuple(
            DecisionRecord(
                member=one.item,
                decision=one.decision,
                person=one.by,
                reason=one.reason,
                decided_on=moment(one.at, zone),
            )
            for one in decided
        ),
        undecided=shown.undecided,
    )


def customer_report(
    data: CustomerData, question: Question, reason: str, written_at: int
) -> CustomerReport:
    """Make the notices to all customers who have something.

    A case gives its number, its span, and its reason where no other one is given.
    """
    if data.case is None:
        containment = containment_report(data.containment, question, reason, written_at)
    else:
        question = Question(window=data.case.window, min_content=data.case.min_content)
        containment = replace(
            containment_report(data.containment, question, reason or data.case.reason, written_at),
            case=data.case.code,
        )
    plan = data.containment.plan
    notices = [
        CustomerNotice(
            customer,
            Places(plan).name(customer),
            tuple(
                HeldItem(
                    row=one.row,
                    carton=one.carton,
                    shipment=one.shipment,
                    shipped_on=show_day(one.shipped_at, plan),
                    reference=one.reference,
                )
                for one in holdings
            ),
            _country(plan, customer),
        )
        for customer, holdings in data.customers.items()
    ]
    return CustomerReport(containment, tuple(notices))


def _country(plan: ShopPlan | None, customer: str) -> str:
    """Give the country of a customer, whose law says who must be told; "" if it is not known."""
    planned = plan.customer(customer) if plan is not None else None
    return planned.country or "" if planned is not None else ""
