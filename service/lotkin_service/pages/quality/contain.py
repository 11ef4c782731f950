"""Containment: what is suspect, where it is, and opening a case on it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC
from typing import TYPE_CHECKING, Annotated, Any
from urllib.parse import urlencode

from fastapi import APIRouter, Depends, Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from lotkin.core.access.rights import Right, Who
from lotkin.core.answers.left_out import said_of
from lotkin.core.errors import BadEvent, LotkinError
from lotkin.core.values.instants import parse_spoken, to_us
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.hold_first import stops_of
from lotkin.uses.asking.next_question import next_question
from lotkin.uses.asking.where import Question
from lotkin.uses.asking.window import Window
from lotkin.uses.cases.case_work import Person, open_case
from lotkin_answers.documents.holding import feeding_text, stop_lines
from lotkin_answers.places import Places
from lotkin_service.access.guard import Asker, Judge
from lotkin_service.door.problems import status_of
from lotkin_service.pages.form.rendering import page
from lotkin_service.pages.looking.items import kinds_apart, with_apart
from lotkin_service.pages.looking.picture import picture_of
from lotkin_service.state import TheWorks, Works

if TYPE_CHECKING:
    from datetime import tzinfo

__all__ = ["Scope", "Scoped", "router"]

router = APIRouter(include_in_schema=False)


@dataclass(frozen=True, slots=True)
class Scope:
    """What is asked about, as it was typed."""

    codes: tuple[str, ...]
    start: str
    end: str

    def question(self, zone: tzinfo | None) -> Question:
        """Give what narrows it; moments are in the time zone of the works.

        Raises:
            BadEvent: A moment is none.
            BadQuestion: They are the wrong way round.
        """
        start = self._moment(self.start, zone)
        end = self._moment(self.end, zone, is_end=True)
        return Question(window=None if start is None and end is None else Window(start, end))

    @staticmethod
    def _moment(text: str, zone: tzinfo | None, *, is_end: bool = False) -> int | None:
        if not text:
            return None
        try:
            return to_us(parse_spoken(text, zone or UTC, is_end=is_end))
        except (ValueError, OverflowError):
            raise BadEvent(text[:40], "is no moment") from None

    @property
    def query(self) -> str:
        """Give it as part of an address."""
        pairs = [("code", " ".join(self.codes)), ("from", self.start), ("to", self.end)]
        return urlencode([(name, value) for name, value in pairs if value])


def _scope(
    code: Annotated[str, Query(max_length=4000)] = "",
    start: Annotated[str, Query(alias="from", max_length=40)] = "",
    end: Annotated[str, Query(alias="to", max_length=40)] = "",
) -> Scope:
    return Scope(tuple(code.split()), start, end)


Scoped = Annotated[Scope, Depends(_scope)]


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
            context["questions"] = next_question(works.asked, scope.codes, question).questions
            apart, answer = kinds_apart(request), context["found"].answer
            context["picture"] = picture_of(answer, apart, lambda kind: with_apart(request, kind))
        except LotkinError as failed:
            error = error or failed
            context["found"] = None
    status = status_of(error) if error is not None else 200
    return page(request, "contain.html", status=status, error=error, **context)
