"""What narrows a question, from the address of a request."""

from __future__ import annotations

from typing import Annotated

from fastapi import Depends, Path, Query
from pydantic import AfterValidator, AwareDatetime

from lotkin.core.values.instants import in_utc, to_us
from lotkin.core.values.kinds import Family
from lotkin.uses.asking.where import Question
from lotkin.uses.asking.window import Window

__all__ = ["AsOf", "CodePath", "Codes", "Moment", "Narrowed", "NarrowedNow"]

LONGEST = 4000
LATEST = 2**53

CodePath = Annotated[str, Path(max_length=LONGEST, description="As scanned or typed.")]
Codes = Annotated[
    list[Annotated[str, Query(max_length=LONGEST)]],
    Query(alias="code", min_length=1, max_length=200, description="As scanned or typed."),
]
Moment = Annotated[AwareDatetime, AfterValidator(in_utc)]
"""A moment with its zone, of a year that a works can have."""

AsOf = Annotated[int | None, Query(ge=0, le=LATEST, description="As of this event.")]


def _narrowed(
    family: Annotated[list[Family] | None, Query()] = None,
    kind: Annotated[list[str] | None, Query(max_length=40)] = None,
    start: Annotated[Moment | None, Query(alias="from")] = None,
    end: Annotated[Moment | None, Query(alias="to")] = None,
    as_of: AsOf = None,
    min_content: Annotated[float | None, Query(ge=0, le=1)] = None,
) -> Question:
    span = tuple(None if moment is None else to_us(moment) for moment in (start, end))
    return Question(
        families=frozenset(str(each) for each in family or ()),
        kinds=frozenset(kind or ()),
        window=None if span == (None, None) else Window(*span),
        as_of=as_of,
        min_content=min_content,
    )


def _narrowed_now(
    start: Annotated[Moment | None, Query(alias="from")] = None,
    end: Annotated[Moment | None, Query(alias="to")] = None,
    min_content: Annotated[float | None, Query(ge=0, le=1)] = None,
) -> Question:
    return _narrowed(start=start, end=end, min_content=min_content)


Narrowed = Annotated[Question, Depends(_narrowed)]
"""Parameters of a route: families, kinds, a span of time, a journal position, a threshold."""

NarrowedNow = Annotated[Question, Depends(_narrowed_now)]
"""The same without what a case cannot be narrowed by."""
