"""Containment: what is suspect, where it is, and opening a case on it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from lotkin.core.access.rights import Right, Who
from lotkin.core.answers.left_out import said_of
from lotkin.core.errors import LotkinError
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.hold_first import stops_of
from lotkin.uses.asking.next_question import next_question
from lotkin.uses.cases.case_work import Person, open_case
from lotkin_answers.documents.holding import feeding_text, stop_lines, to_count_text
from lotkin_answers.places import Places
from lotkin_service.access.guard import Asker, Judge
from lotkin_service.door.problems import status_of
from lotkin_service.form.rendering import page
from lotkin_service.pages.looking.items import kinds_apart, with_apart
from lotkin_service.pages.looking.picture import picture_of
from lotkin_service.pages.scope import Scope, Scoped
from lotkin_service.state import TheWorks, Works

if TYPE_CHECKING:
    pass

__all__ = ["router"]

router = APIRouter(include_in_schema=False)


@router.get("/contain")
def contained(request: Request, works: TheWorks, who: Asker, scope: Scoped) -> HTMLResponse:
    """Show all that is suspect because of some items; nothing is held by looking."""
    return _page(request, works, who, scope)


@router.post("/contain")
def opened(
    request: Request,
    works: TheWorks,
    who: Judge,
    code: Annotated[str, Form(max_length=4000)],
    reason: Annotated[str, Form(max_length=2000)],
    start: Annotated[str, Form(alias="from", max_length=40)] = "",
    end: Annotated[str, Form(alias="to", max_length=40)] = "",
) -> Response:
    """Open a case: all of it is held from now on."""
    scope = Scope(tuple(code.split()), start, end)
    person = Person(who.person, works.clock, who)
    try:
        question = scope.question(Places(works.plan()).zone)
        case = open_case(works.store, scope.codes, reason, person, question).case
    except LotkinError as error:
        return _page(request, works, who, scope, error)
    return RedirectResponse(f"/cases/{case.code}", 303)


def _page(
    request: Request, works: Works, who: Who, scope: Scope, error: LotkinError | None = None
) -> HTMLResponse:
    places = Places(works.plan())
    context: dict[str, Any] = {
        "who": who,
        "codes": scope.codes,
        "start": scope.start,
        "end": scope.end,
        "query": scope.query,
        "places": places,
        "outside": (),
        "may_judge": who.may(Right.JUDGE),
        "found": None,
    }
    if scope.codes:
        try:
            question = scope.question(places.zone)
            context["found"] = contain(works.asked, scope.codes, question)
            if question.window is not None:
                context["outside"] = [
                    said_of(one, question.window, places.zone)
                    for one in context["found"].answer.outside
                ]
            stops = stops_of(context["found"])
            context |= {"stops": stop_lines(stops), "feeders": stops.feeders}
            context["feeding"] = feeding_text(stops)
            context["to_count"] = to_count_text(stops)
            context["questions"] = next_question(works.asked, scope.codes, question).questions
            apart, answer = kinds_apart(request), context["found"].answer
            context["picture"] = picture_of(answer, apart, lambda kind: with_apart(request, kind))
        except LotkinError as failed:
            error = error or failed
            context["found"] = None
    status = status_of(error) if error is not None else 200
    return page(request, "contain.html", status=status, error=error, **context)
