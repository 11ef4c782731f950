"""What is printed or kept from pages: labels, and reports as PDF and workbook."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import APIRouter, Query
from fastapi.responses import Response

from lotkin.core.errors import BadEvent
from lotkin.shown.printed import label_of
from lotkin.shown.reported import case_report, containment_report
from lotkin.shown.unit_record import unit_record
from lotkin.uses.print_data import print_data
from lotkin.uses.report_data import case_data, containment_data, unit_data
from lotkin_labels import print_labels
from lotkin_labels.reports import (
    ContainmentReport,
    containment_tables,
    print_containment,
    print_unit,
    unit_tables,
    write_workbook,
)
from lotkin_service.access.guard import Asker
from lotkin_service.pages.contain import Scoped
from lotkin_service.works import TheWorks, Works

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
    plan, found = print_data(works.asked, [code])
    labels = [label_of(one, plan) for one in found]
    return _file(print_labels(labels, stock), "label", "pdf")


@router.get("/containment.{ending}")
def containment(works: TheWorks, who: Asker, ending: Ending, scope: Scoped) -> Response:
    """Write a containment down."""
    if not scope.codes:
        raise BadEvent("containment", "names no code")
    question = scope.question()
    data = containment_data(works.asked, scope.codes, question)
    return _containment(works, containment_report(data, question, ""), "containment", ending)


@router.get("/case.{ending}")
def case(works: TheWorks, who: Asker, ending: Ending, case: Code) -> Response:
    """Write a case down."""
    return _containment(works, case_report(case_data(works.asked, case)), "case", ending)


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
