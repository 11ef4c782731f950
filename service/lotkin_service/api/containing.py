"""Containment: what is suspect, cases on it, and what narrows it down."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated

from fastapi import Query
from fastapi.responses import StreamingResponse
from pydantic import BaseModel, Field

from lotkin.core.errors import BadEvent
from lotkin.core.events.quality.case import DecisionWord
from lotkin.core.values.instants import to_us
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.hold_first import hold_first
from lotkin.uses.asking.next_question import next_question
from lotkin.uses.asking.sample_plan import Checked, Wanted, plan_sample
from lotkin.uses.asking.where import Question
from lotkin.uses.asking.window import Window
from lotkin.uses.cases.case_work import (
    Person,
    Selection,
    Verdict,
    close_case,
    compare_scopes,
    decide,
    list_cases,
    open_case,
    show_case,
)
from lotkin_answers.documents.answers import containment_document
from lotkin_answers.documents.cases import case_data, case_document, scope_data
from lotkin_answers.documents.holding import hold_first_document
from lotkin_answers.documents.investigation.questions import questions_document
from lotkin_answers.documents.investigation.samples import sample_document
from lotkin_answers.places import Places
from lotkin_service.access.guard import Asker, Judge
from lotkin_service.api.answering import answer, router_of
from lotkin_service.api.questions import CodePath, Codes, Moment, Narrowed, NarrowedNow
from lotkin_service.state import TheWorks

__all__ = ["router"]

router = router_of("containment")

Code = Annotated[str, Field(min_length=1, max_length=4000)]
Reason = Annotated[str, Field(min_length=1, max_length=2000)]
Share = Annotated[float, Query(gt=0, lt=1)]


class NewCase(BaseModel):
    """A case to open."""

    codes: list[Code] = Field(min_length=1, max_length=200)
    reason: Reason
    start: Moment | None = Field(None, alias="from")
    end: Moment | None = Field(None, alias="to")
    min_content: float | None = Field(None, ge=0, le=1)


class NewDecision(BaseModel):
    """A decision on members of a case, named or selected."""

    decision: DecisionWord
    reason: Reason
    evidence: str = Field("", max_length=2000)
    codes: list[Code] = Field(default_factory=list, max_length=10_000)
    kind: str = Field("", max_length=40)
    place: str = Field("", max_length=80)
    customer: str = Field("", max_length=80)
    quantity: str = Field("", max_length=40)
    count: int | None = Field(
        None, ge=1, description="How many members it is for; needed above 50, else refused."
    )


class Closing(BaseModel):
    """How a case ended."""

    reason: Reason


@router.get("/contain")
def contained(works: TheWorks, who: Asker, code: Codes, question: Narrowed) -> StreamingResponse:
    """Find all that is suspect because of some items; nothing is held by asking."""
    found = contain(works.asked, code, question)
    return answer(containment_document(found, Places(works.plan())))


@router.get("/hold-first")
def held_first(
    works: TheWorks, who: Asker, code: Codes, question: NarrowedNow
) -> StreamingResponse:
    """Tell where to hold first, of all that is suspect."""
    return answer(hold_first_document(code, hold_first(works.asked, code, question)))


@router.get("/next-question")
def asked_next(
    works: TheWorks, who: Asker, code: Codes, question: NarrowedNow
) -> StreamingResponse:
    """Tell what to find out next, so that as little as possible stays suspect."""
    return answer(questions_document(code, next_question(works.asked, code, question)))


@router.get("/items/{code:path}/sample")
def sampled(
    works: TheWorks,
    who: Asker,
    code: CodePath,
    confidence: Share = 0.95,
    bad_pieces: Annotated[int | None, Query(ge=1, le=10**9)] = None,
    bad_share: Annotated[float | None, Query(gt=0, lt=1)] = None,
    allowed: Annotated[int, Query(ge=0, le=100)] = 0,
    checked: Annotated[int | None, Query(ge=1, le=10**9)] = None,
    bad_found: Annotated[int, Query(ge=0, le=10**9)] = 0,
) -> StreamingResponse:
    """Say how many pieces of a suspect lot to check, and what a check has shown."""
    if bad_pieces is not None and bad_share is not None:
        raise BadEvent("sample", "takes bad_pieces or bad_share, not both")
    share = None if bad_share is None else _exact(bad_share)
    wanted = Wanted(_exact(confidence), bad_pieces, share, allowed)
    seen = None if checked is None else Checked(checked, bad_found)
    return answer(sample_document(plan_sample(works.asked, code, wanted, seen)))


def _exact(share: float) -> Fraction:
    """Take a share as it was written, to nine decimals."""
    return Fraction(f"{share:.9f}") or Fraction(1, 10**9)


@router.get("/cases")
def listed(works: TheWorks, who: Asker) -> StreamingResponse:
    """List all cases with how much is left to decide."""
    cases = list_cases(works.asked)
    return answer({"cases": [case_data(case, left) for case, left in cases]})


@router.get("/cases/compare")
def compared(
    works: TheWorks,
    who: Asker,
    scope: Annotated[
        list[Annotated[str, Query(max_length=4000)]],
        Query(min_length=1, max_length=20, description="A code, or several joined with commas."),
    ],
) -> StreamingResponse:
    """Compare scopes side by side before opening a case."""
    wanted = [[code for code in each.split(",") if code] for each in scope]
    if not all(wanted):
        raise BadEvent("scope", "names no code")
    return answer({"scopes": [scope_data(one) for one in compare_scopes(works.asked, wanted)]})


@router.post("/cases", status_code=201)
def opened(works: TheWorks, who: Judge, new: NewCase) -> StreamingResponse:
    """Open a case: all that its scope takes in is held from now on."""
    span = tuple(None if moment is None else to_us(moment) for moment in (new.start, new.end))
    window = None if span == (None, None) else Window(*span)
    question = Question(window=window, min_content=new.min_content)
    person = Person(who.person, works.clock, who)
    shown = open_case(works.store, new.codes, new.reason, person, question)
    return answer(case_document(shown), 201)


@router.get("/cases/{case}")
def shown(works: TheWorks, who: Asker, case: CodePath) -> StreamingResponse:
    """Show a case: what it is on, what is decided, what is left."""
    return answer(case_document(show_case(works.asked, case)))


@router.post("/cases/{case}/decisions")
def decided(works: TheWorks, who: Judge, case: CodePath, new: NewDecision) -> StreamingResponse:
    """Decide on members of a case."""
    if not new.codes and not (new.kind or new.place or new.customer):
        raise BadEvent("decision", "names no members, kind, place or customer")
    done = decide(
        works.store,
        case,
        Verdict(new.decision, new.reason, new.evidence, new.quantity),
        Person(who.person, works.clock, who),
        Selection(tuple(new.codes), new.kind, new.place, new.customer, new.count),
    )
    return answer({"case": case, "decision": new.decision, "decided": list(done)})


@router.post("/cases/{case}/close")
def closed(works: TheWorks, who: Judge, case: CodePath, closing: Closing) -> StreamingResponse:
    """Close a case; it is refused while any piece is undecided."""
    person = Person(who.person, works.clock, who)
    signer = works.settings.signer
    return answer(case_document(close_case(works.store, case, closing.reason, person, signer)))
