"""Checks on the whole record: causes, gaps, dispersion, drills, the chain."""

from __future__ import annotations

from random import randrange
from time import perf_counter
from typing import Annotated

from fastapi import Query
from fastapi.responses import StreamingResponse
from pydantic import BaseModel, Field

from lotkin.core.audit import KINDS_OF_GAPS, Limits
from lotkin.core.errors import BadEvent
from lotkin.uses.asking.audit import audit
from lotkin.uses.asking.common_cause import common_cause
from lotkin.uses.asking.dispersion import dispersion
from lotkin.uses.asking.drill import drill, drills, pick
from lotkin.uses.evidence.verify import verify
from lotkin_answers.documents.audit import audit_document
from lotkin_answers.documents.drills import drill_document, drills_document
from lotkin_answers.documents.investigation.causes import cause_document
from lotkin_answers.documents.investigation.dispersion import dispersion_document
from lotkin_answers.documents.keeping import verified_document
from lotkin_service.access.guard import Asker, Judge
from lotkin_service.api.answering import answer, router_of
from lotkin_service.api.questions import Codes
from lotkin_service.state import TheWorks

__all__ = ["router"]

router = router_of("checks")

SEEDS = 2**31
USUAL = Limits()
Days = Annotated[int, Query(ge=0, le=36_500)]


class NewDrill(BaseModel):
    """A drill to do: on an item, or on one chosen by a number or by chance."""

    code: str = Field("", max_length=4000)
    seed: int | None = Field(None, ge=0, lt=SEEDS)


@router.get("/common-cause")
def cause(
    works: TheWorks,
    who: Asker,
    code: Codes,
    margin_days: Annotated[int, Query(ge=0, le=36_500)] = 45,
) -> StreamingResponse:
    """Find what units that failed have in common."""
    return answer(cause_document(common_cause(works.asked, code, margin_days)))


@router.get("/audit")
def gaps(
    works: TheWorks,
    who: Asker,
    kind: Annotated[list[str] | None, Query(max_length=60)] = None,
    stale_days: Days = USUAL.stale,
    outside_days: Days = USUAL.outside,
    held_days: Days = USUAL.held,
    open_days: Days = USUAL.unfinished,
    due_days: Days = USUAL.due,
) -> StreamingResponse:
    """Find gaps in the record, each with how to mend it."""
    unknown = [each for each in kind or () if each not in KINDS_OF_GAPS]
    if unknown:
        raise BadEvent("kind", f"{unknown[0][:40]!r} is no kind of gap")
    limits = Limits(stale_days, outside_days, held_days, open_days, due_days)
    found = audit(works.asked, works.documents, works.clock(), limits, kinds=kind or ())
    return answer(audit_document(found))


@router.get("/dispersion")
def dispersed(
    works: TheWorks,
    who: Asker,
    code: Annotated[str | None, Query(max_length=4000)] = None,
) -> StreamingResponse:
    """Tell how many units the recall of each lot would take."""
    return answer(dispersion_document(dispersion(works.asked, code)))


@router.get("/drills")
def drilled(works: TheWorks, who: Asker) -> StreamingResponse:
    """List the drills on record."""
    return answer(drills_document(drills(works.asked)))


@router.post("/drills", status_code=201)
def drill_now(works: TheWorks, who: Judge, new: NewDrill) -> StreamingResponse:
    """Practise a trace, and put it on record."""
    seed = None
    if not new.code:
        seed = randrange(SEEDS) if new.seed is None else new.seed
    chosen = new.code or pick(works.store, seed or 0)
    done = drill(works.store, chosen, by=who.person, clock=works.clock, timer=perf_counter)
    return answer(drill_document(done, seed), 201)


@router.get("/verify")
def verified(
    works: TheWorks,
    who: Asker,
    key: Annotated[str, Query(pattern="^([0-9a-f]{64})?$", description="Trusted for seals")] = "",
) -> StreamingResponse:
    """Check the journal against its chain of hashes, its seals, and the documents it names.

    Derived tables are not compared; `sound` says nothing of what `not_looked_at` names.
    """
    return answer(verified_document(verify(works.store, key, works.documents)))
