"""A complaint, a common cause, gaps, drills, late scans."""

from __future__ import annotations

from time import perf_counter
from typing import TYPE_CHECKING, Annotated, Any

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from lotkin.core.access.rights import Right, Who
from lotkin.core.errors import LotkinError
from lotkin.uses.asking.common_cause import common_cause
from lotkin.uses.asking.drill import drill, drills, pick
from lotkin.uses.complaints.complaint import complaint
from lotkin.uses.stations.served_station import mark_seen, scans_to_look_at
from lotkin_answers.documents.complaint import complaint_document
from lotkin_answers.places import Places
from lotkin_answers.unit.recorded import rows_of_tests
from lotkin_service.access.guard import Asker, Judge
from lotkin_service.door.problems import status_of
from lotkin_service.form.listing import part_of
from lotkin_service.form.rendering import page
from lotkin_service.pages.age import age_of
from lotkin_service.state import TheWorks, Works

if TYPE_CHECKING:
    pass

__all__ = ["router"]

router = APIRouter(include_in_schema=False)

PageNumber = Annotated[int, Query(alias="page", ge=1, le=10**6)]


@router.get("/complaint")
def complained(
    request: Request,
    works: TheWorks,
    who: Asker,
    serial: Annotated[str, Query(max_length=4000)] = "",
) -> HTMLResponse:
    """Show what is in a unit, and who else has that."""
    places = Places(works.plan())
    context: dict[str, Any] = {"who": who, "serial": serial, "found": None, "error": None}
    if serial.strip():
        try:
            found = complaint(works.asked, serial)
            document = complaint_document(found, places)
            context |= {
                "found": found,
                "components": _components(document),
                "tests": list(rows_of_tests(found, places)),
            }
        except LotkinError as error:
            context["error"] = error
    status = status_of(context["error"]) if context["error"] else 200
    return page(request, "complaint.html", status=status, places=places, **context)


def _components(document: Any) -> list[dict[str, Any]]:
    return [
        {
            "position": each["position"],
            "removed": each["removed"],
            "part": each["part"],
            "lots": [{"code": lot["code"], "units": lot["other_units"]} for lot in each["lots"]],
        }
        for each in document["components"]
    ]


@router.get("/cause")
def cause(
    request: Request,
    works: TheWorks,
    who: Asker,
    code: Annotated[str, Query(max_length=4000)] = "",
    margin: Annotated[int, Query(ge=0, le=36_500)] = 45,
) -> HTMLResponse:
    """Find what units that failed have in common."""
    codes = code.split()
    context: dict[str, Any] = {"who": who, "codes": codes, "margin": margin, "error": None}
    context["found"] = None
    if codes:
        try:
            context["found"] = common_cause(works.asked, codes, margin)
        except LotkinError as error:
            context["error"] = error
    status = status_of(context["error"]) if context["error"] else 200
    return page(request, "cause.html", status=status, **context)


@router.get("/audit")
def gaps(
    request: Request,
    works: TheWorks,
    who: Asker,
    kind: Annotated[str, Query(max_length=60)] = "",
    number: PageNumber = 1,
) -> HTMLResponse:
    """List gaps in the record as they were last found, each with how to mend it."""
    kept = works.findings.kept
    found = kept.found if kept is not None else None
    rows = [gap for gap in found.gaps if kind in ("", gap.kind)] if found is not None else []
    return page(
        request,
        "audit.html",
        who=who,
        listing=part_of(request, rows, number),
        counts=found.counts.items() if found is not None else (),
        findings=age_of(works, kept),
        kind=kind,
        places=Places(works.plan()),
    )


@router.post("/audit")
def gaps_anew(works: TheWorks, who: Asker) -> RedirectResponse:
    """Have gaps looked for anew."""
    works.findings.ask_anew()
    return RedirectResponse("/audit", 303)


@router.get("/drills")
def drilled(request: Request, works: TheWorks, who: Asker) -> HTMLResponse:
    """List the drills on record, the newest first."""
    return _drills(request, works, who, None)


@router.post("/drills")
def drill_now(
    request: Request,
    works: TheWorks,
    who: Judge,
    code: Annotated[str, Form(max_length=4000)] = "",
) -> Response:
    """Practise a trace, and put it on record."""
    try:
        chosen = code.strip() or pick(works.store, works.clock())
        drill(works.store, chosen, by=who.person, clock=works.clock, timer=perf_counter)
    except LotkinError as error:
        return _drills(request, works, who, error)
    return RedirectResponse("/drills", 303)


def _drills(request: Request, works: Works, who: Who, error: LotkinError | None) -> HTMLResponse:
    return page(
        request,
        "drills.html",
        status=status_of(error) if error is not None else 200,
        who=who,
        drills=list(reversed(drills(works.asked))),
        error=error,
        may_judge=who.may(Right.JUDGE),
        places=Places(works.plan()),
    )


@router.get("/late-scans")
def late(request: Request, works: TheWorks, who: Judge) -> HTMLResponse:
    """List scans that waited on a device and led nowhere."""
    scans = scans_to_look_at(works.store)
    return page(request, "late_scans.html", who=who, scans=scans, places=Places(works.plan()))


@router.post("/late-scans")
def seen(
    works: TheWorks, who: Judge, number: Annotated[str, Form(max_length=80)]
) -> RedirectResponse:
    """Put a late scan away."""
    mark_seen(works.store, number, who.person)
    return RedirectResponse("/late-scans", 303)
