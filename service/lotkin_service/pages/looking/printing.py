"""What is printed or kept from pages: labels, and reports as PDF and workbook."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Literal

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import HTMLResponse, Response

from lotkin.core.errors import BadEvent, NoPlan
from lotkin.uses.recording.issue import find_traveller, issue_traveller
from lotkin.uses.reporting.print_data import print_data
from lotkin.uses.reporting.report_data import case_data, containment_data, unit_data
from lotkin.wiring import base_url
from lotkin_answers.places import Places
from lotkin_answers.unit.recorded import unit_record
from lotkin_labels import print_cards, print_labels
from lotkin_labels.printing.reports import case_report, containment_report
from lotkin_labels.printing.shop_papers import cards_of, dispatch_note, label_of, traveller
from lotkin_labels.reports import (
    ContainmentReport,
    containment_tables,
    print_containment,
    print_unit,
    unit_tables,
    write_workbook,
)
from lotkin_service.access.guard import Asker, Worker
from lotkin_service.form.rendering import page
from lotkin_service.pages.scope import Scoped
from lotkin_service.state import TheWorks, Works

__all__ = ["router"]

router = APIRouter(prefix="/print", include_in_schema=False)

Ending = Literal["pdf", "xlsx"]
MEDIA_TYPES = {
    "pdf": "application/pdf",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}
Code = Annotated[str, Query(max_length=4000)]


def _file(content: bytes, name: str, ending: Ending) -> Response:
    headers = {"Content-Disposition": f'inline; filename="{name}.{ending}"'}
    return Response(content, headers=headers, media_type=MEDIA_TYPES[ending])


@router.get("/label.pdf")
def label(
    works: TheWorks, who: Asker, code: Code, stock: Annotated[str, Query(max_length=40)] = "TAPE-62"
) -> Response:
    """Print the label of an item."""
    plan, found = print_data(works.asked, [code], works.clock)
    labels = [label_of(one, plan, base_url=base_url()) for one in found]
    return _file(print_labels(labels, stock), "label", "pdf")


@router.get("/containment.{ending}")
def containment(works: TheWorks, who: Asker, ending: Ending, scope: Scoped) -> Response:
    """Write a containment down."""
    if not scope.codes:
        raise BadEvent("containment", "names no code")
    question = scope.question(Places(works.plan()).zone)
    data = containment_data(works.asked, scope.codes, question)
    return _containment(
        works, containment_report(data, question, "", works.clock()), "containment", ending
    )


@router.get("/case.{ending}")
def case(works: TheWorks, who: Asker, ending: Ending, case: Code) -> Response:
    """Write a case down."""
    return _containment(
        works, case_report(case_data(works.asked, case), works.clock()), "case", ending
    )


def _containment(works: Works, report: ContainmentReport, name: str, ending: Ending) -> Response:
    if ending == "pdf":
        return _file(print_containment(report), name, ending)
    tables = containment_tables(report)
    return _file(write_workbook(tables, title=name, written_at=works.clock()), name, ending)


@router.get("/unit.{ending}")
def unit(works: TheWorks, who: Asker, ending: Ending, code: Code) -> Response:
    """Write the record of a unit down."""
    record = unit_record(unit_data(works.asked, code), works.clock())
    if ending == "pdf":
        return _file(print_unit(record), "unit", ending)
    title = f"Record of {record.serial}"
    content = write_workbook(unit_tables(record), title=title, written_at=works.clock())
    return _file(content, "unit", ending)


@router.get("/cards.pdf")
def cards(works: TheWorks, who: Asker) -> Response:
    """Print badges, commands, places and bench positions."""
    plan = works.plan()
    if plan is None:
        raise NoPlan
    return _file(print_cards(cards_of(plan)), "cards", "pdf")


@router.get("/dispatch-note.pdf")
def note(works: TheWorks, who: Asker, code: Code) -> Response:
    """Print the note that goes with a batch to an outside service."""
    plan, (found,) = print_data(works.asked, [code], works.clock)
    return _file(dispatch_note(found, plan), "dispatch-note", "pdf")


@router.get("/traveller.pdf")
def traveller_again(works: TheWorks, who: Asker, code: Code) -> Response:
    """Print a traveller that was issued before."""
    return _file(traveller(find_traveller(works.asked, code)), "traveller", "pdf")


@router.post("/traveller.pdf")
def traveller_new(
    works: TheWorks,
    who: Worker,
    part: Annotated[str, Form(max_length=80)],
    quantity: Annotated[Decimal, Form(gt=0, le=10**9)],
) -> Response:
    """Issue a traveller and print it."""
    issued = issue_traveller(works.store, part, quantity, code="", by=who.person, clock=works.clock)
    return _file(traveller(issued), issued.code, "pdf")


@router.get("")
def paper(request: Request, works: TheWorks, who: Asker) -> HTMLResponse:
    """Show what can be printed."""
    plan = works.plan()
    parts = [part for part in plan.parts if part.steps] if plan is not None else []
    return page(request, "paper.html", who=who, parts=parts)
