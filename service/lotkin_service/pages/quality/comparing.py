"""Scopes side by side before a case is opened, and how far each lot is spread."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse

from lotkin.core.errors import LotkinError
from lotkin.uses.asking.dispersion import dispersion
from lotkin.uses.cases.case_work import compare_scopes
from lotkin_answers.documents.cases import at_customers, at_unknown_places
from lotkin_service.access.guard import Asker
from lotkin_service.door.problems import status_of
from lotkin_service.form.listing import part_of
from lotkin_service.form.rendering import page
from lotkin_service.state import TheWorks

if TYPE_CHECKING:
    from lotkin.core.answers.containment import Containment

__all__ = ["router"]

router = APIRouter(include_in_schema=False)

MOST_SCOPES = 20


@router.get("/compare")
def compared(
    request: Request,
    works: TheWorks,
    who: Asker,
    scopes: Annotated[str, Query(max_length=4000)] = "",
) -> HTMLResponse:
    """Compare scopes, a line each: this batch, the bath, the heat."""
    wanted = [codes for line in scopes.splitlines() if (codes := line.replace(",", " ").split())]
    found: list[tuple[list[str], Containment, int, int]] = []
    error = None
    try:
        answers = compare_scopes(works.asked, wanted[:MOST_SCOPES])
        found = [
            (codes, answer, at_customers(answer), at_unknown_places(answer))
            for codes, answer in zip(wanted, answers, strict=False)
        ]
    except LotkinError as failed:
        error = failed
    return page(
        request,
        "compare.html",
        status=status_of(error) if error is not None else 200,
        who=who,
        scopes=scopes,
        found=found,
        error=error,
    )


@router.get("/dispersion")
def dispersed(
    request: Request,
    works: TheWorks,
    who: Asker,
    number: Annotated[int, Query(alias="page", ge=1, le=10**6)] = 1,
) -> HTMLResponse:
    """Show how many units the recall of each lot would take."""
    found = dispersion(works.asked)
    lots = sorted(found.lots, key=lambda lot: (-found.whole.units_of(lot.code), lot.code))
    return page(
        request, "dispersion.html", who=who, found=found, listing=part_of(request, lots, number)
    )
