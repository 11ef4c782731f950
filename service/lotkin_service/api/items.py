"""Items: found, shown, and what is behind them and before them."""

from __future__ import annotations

from typing import Annotated

from fastapi import Query
from fastapi.responses import StreamingResponse

from lotkin.core.errors import NotAnItem
from lotkin.uses.asking.contain import account
from lotkin.uses.asking.show import show
from lotkin.uses.asking.where import where_from, where_used
from lotkin.uses.cases.case_work import show_case
from lotkin.uses.complaints.complaint import complaint
from lotkin.uses.lookup.find import find
from lotkin_answers.documents.answers import account_document, answer_document
from lotkin_answers.documents.cases import case_document
from lotkin_answers.documents.complaint import complaint_document
from lotkin_answers.documents.items import item_document
from lotkin_answers.places import Places
from lotkin_service.access.guard import Asker
from lotkin_service.api.answering import answer, router_of
from lotkin_service.api.questions import AsOf, CodePath, Narrowed
from lotkin_service.state import TheWorks

__all__ = ["router"]

router = router_of("items")


@router.get("/find")
def found(
    works: TheWorks,
    who: Asker,
    text: Annotated[str, Query(max_length=4000, description="As scanned or typed.")],
) -> StreamingResponse:
    """Find the item that a scan means."""
    seen = find(works.asked, text)
    return answer({"code": seen.item.code, "warnings": list(seen.warnings)})


@router.get("/items/{code:path}/where-from")
def from_where(
    works: TheWorks, who: Asker, code: CodePath, question: Narrowed
) -> StreamingResponse:
    """Find everything that is behind an item."""
    return answer(answer_document(where_from(works.asked, code, question)))


@router.get("/items/{code:path}/where-used")
def used_where(
    works: TheWorks, who: Asker, code: CodePath, question: Narrowed
) -> StreamingResponse:
    """Find everything that an item went into."""
    return answer(answer_document(where_used(works.asked, code, question)))


@router.get("/items/{code:path}/account")
def accounted(works: TheWorks, who: Asker, code: CodePath, as_of: AsOf = None) -> StreamingResponse:
    """Account for the whole quantity of an item."""
    return answer(account_document(account(works.asked, code, as_of)))


@router.get("/items/{code:path}/complaint")
def complained(works: TheWorks, who: Asker, code: CodePath) -> StreamingResponse:
    """Give the as-built record of a unit, and who else has what is in it."""
    return answer(complaint_document(complaint(works.asked, code), Places(works.plan())))


@router.get("/items/{code:path}")
def shown(works: TheWorks, who: Asker, code: CodePath) -> StreamingResponse:
    """Show an item: what it is, where it is, what it was made from, its history.

    The code of a case shows the case, as `/api/v1/cases/{case}` does.
    """
    try:
        return answer(item_document(show(works.asked, code)))
    except NotAnItem as other:
        if other.what != "case":
            raise
        return answer(case_document(show_case(works.asked, other.record)))
