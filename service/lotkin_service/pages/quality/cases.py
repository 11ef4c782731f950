"""Cases: the board, one case, decisions on its members, and its end."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Any

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from lotkin.core.access.rights import Right, Who
from lotkin.core.cases.membership import DECISIONS
from lotkin.core.cases.selection import members_at
from lotkin.core.errors import BadEvent, CountNotConfirmed, LotkinError
from lotkin.uses.cases.case_work import (
    Person,
    Selection,
    Verdict,
    close_case,
    decide,
    list_cases,
    show_case,
)
from lotkin_answers.places import Places
from lotkin_service.access.guard import Asker, Judge
from lotkin_service.door.problems import status_of
from lotkin_service.form.rendering import page
from lotkin_service.state import TheWorks, Works

__all__ = ["router"]

router = APIRouter(include_in_schema=False)

MOST_SHOWN = 100
Text = Annotated[str, Form(max_length=2000)]


@router.get("/cases")
def board(request: Request, works: TheWorks, who: Asker) -> HTMLResponse:
    """List all cases, the open ones first."""
    cases = sorted(list_cases(works.asked), key=lambda each: (each[0].closed_by > 0, -each[0].at))
    return page(request, "cases.html", who=who, cases=cases, places=Places(works.plan()))


@router.get("/cases/{case}")
def shown(request: Request, works: TheWorks, who: Asker, case: str) -> HTMLResponse:
    """Show a case: what is decided, and what is left."""
    return _page(request, works, who, case)


@router.post("/cases/{case}/decisions")
def decided(
    request: Request,
    works: TheWorks,
    who: Judge,
    case: str,
    decision: Text,
    reason: Text,
    evidence: Text = "",
    place: Text = "",
    customer: Text = "",
    kind: Text = "",
    quantity: Text = "",
    count: Annotated[int | None, Form()] = None,
    member: Annotated[list[str] | None, Form()] = None,
) -> Response:
    """Decide on the members chosen, or on all of a kind, at a place or at a customer."""
    try:
        if decision not in DECISIONS:
            raise BadEvent("decision", "is none of those that there are")
        if not (member or place or customer or kind):
            raise BadEvent("decision", "names no member, place, customer or kind")
        if quantity and len(member or ()) != 1:
            raise BadEvent("decision", "a quantity is of one member; choose one")
        decide(
            works.store,
            case,
            Verdict(decision, reason, evidence, quantity),
            Person(who.person, works.clock, who),
            Selection(tuple(member or ()), kind, place, customer, count),
        )
    except CountNotConfirmed as error:
        said = {"decision": decision, "reason": reason, "evidence": evidence, "kind": kind}
        again = {**said, "place": place, "customer": customer, "quantity": quantity}
        return _page(request, works, who, case, error, again=(again, member or ()))
    except LotkinError as error:
        return _page(request, works, who, case, error)
    return RedirectResponse(f"/cases/{case}", 303)


@router.post("/cases/{case}/close")
def closed(request: Request, works: TheWorks, who: Judge, case: str, reason: Text) -> Response:
    """Close a case whose every piece is decided."""
    try:
        close_case(
            works.store, case, reason, Person(who.person, works.clock, who), works.settings.signer
        )
    except LotkinError as error:
        return _page(request, works, who, case, error)
    return RedirectResponse(f"/cases/{case}", 303)


def _page(
    request: Request,
    works: Works,
    who: Who,
    case: str,
    error: LotkinError | None = None,
    *,
    again: tuple[dict[str, str], Sequence[str]] | None = None,
) -> HTMLResponse:
    found = show_case(works.asked, case)
    with works.asked.reading() as view:
        at = members_at(view, found.undecided)
    wanted = set(found.undecided[:MOST_SHOWN])
    answer = found.containment.answer
    rows = [*found.containment.subject_rows, *answer.items]
    context: dict[str, Any] = {
        "who": who,
        "shown": found,
        "undecided": [row for row in rows if row.code in wanted],
        "kinds": sorted({row.kind for row in rows}),
        "decisions": DECISIONS,
        "places": Places(works.plan()),
        "may_judge": who.may(Right.JUDGE),
        "error": error,
        "at": sorted(at.items()),
        "again": again,
    }
    return page(request, "case.html", status=status_of(error) if error else 200, **context)
