"""The first page: only what asks for somebody to act."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from lotkin.core.access.rights import Right
from lotkin.uses.cases.case_work import list_cases
from lotkin.uses.stations.served_station import scans_to_look_at
from lotkin_service.access.guard import Asker
from lotkin_service.form.rendering import page
from lotkin_service.pages.age import age_of
from lotkin_service.state import TheWorks

__all__ = ["router"]

router = APIRouter(include_in_schema=False)


@router.get("/")
def start(request: Request, works: TheWorks, who: Asker) -> HTMLResponse:
    """Show open cases, gaps by kind as they were last found, and what waits to be looked at."""
    plan = works.plan()
    kept = works.findings.kept
    cases = [(case, left) for case, left in list_cases(works.asked) if not case.closed_by]
    return page(
        request,
        "start.html",
        who=who,
        works_name=plan.works.name if plan is not None else "",
        has_plan=plan is not None,
        cases=cases,
        undecided=sum(left for _, left in cases),
        gaps=sorted(kept.found.counts.items(), key=lambda each: -each[1]) if kept else [],
        findings=age_of(works, kept),
        late=len(scans_to_look_at(works.store)) if who.may(Right.JUDGE) else 0,
    )
