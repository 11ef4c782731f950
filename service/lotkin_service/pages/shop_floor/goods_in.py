"""Goods-in: the label is scanned, the certificate stands beside what was read of it, confirmed.

The page keeps nothing between its steps but the documents, which go to where they are kept anyway,
and names them by their hashes.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile

from lotkin.core.errors import BadFile, LotkinError
from lotkin.core.values.instants import from_us
from lotkin.uses.recording.attachments import LARGEST, Attachment, Paper, read_papers
from lotkin.uses.recording.delivery_label import read_label
from lotkin.uses.recording.receive import propose, receive
from lotkin_answers.delivery_text import delivery_lines, reading_lines, values_text
from lotkin_answers.places import Places
from lotkin_service.access.guard import Receiver
from lotkin_service.door.problems import status_of
from lotkin_service.form.rendering import page
from lotkin_service.pages.shop_floor.delivery_form import Told, told, written
from lotkin_service.state import TheWorks, Works

if TYPE_CHECKING:
    from lotkin.core.access.rights import Who

__all__ = ["router"]

router = APIRouter(include_in_schema=False)

MOST_FILES = 20


@router.get("/goods-in")
def empty(request: Request, works: TheWorks, who: Receiver) -> HTMLResponse:
    """Show the form for a new delivery."""
    return _page(request, works, who, told({}, (), who.person))


@router.post("/goods-in")
async def filled(request: Request, works: TheWorks, who: Receiver) -> HTMLResponse:
    """Take a label, documents or fields; record when that is asked and nothing is open."""
    async with request.form(max_files=MOST_FILES, max_fields=200) as form:
        texts = {name: value for name, value in form.items() if isinstance(value, str)}
        files = [each for each in form.getlist("papers") if isinstance(each, UploadFile)]
        given = [
            Attachment(each.filename or "document", await each.read(LARGEST + 1))
            for each in files
            if each.filename
        ]
        known = [str(each) for each in form.getlist("paper")][:MOST_FILES]
        confirmed = [str(each) for each in form.getlist("confirmed")]
    sent = _Sent(texts, given, known, confirmed)
    return await run_in_threadpool(_take, request, works, who, sent)


class _Sent:
    """What was sent: texts by field, new files, hashes and names of known ones, confirmations."""

    def __init__(
        self,
        texts: dict[str, str],
        given: list[Attachment],
        known: list[str],
        confirmed: list[str],
    ) -> None:
        self.texts, self.given, self.known, self.confirmed = texts, given, known, confirmed


def _take(request: Request, works: Works, who: Who, sent: _Sent) -> HTMLResponse:
    warnings: list[str] = []
    try:
        papers = _papers(works, sent)
        if sent.texts.get("label", "").strip():
            warnings = _read_label(works, sent)
        now = told(sent.texts, papers, who.person)
        if sent.texts.get("do") == "record" and now.delivery is not None:
            done = receive(
                works.store, works.documents, now.delivery, works.clock, confirmed=sent.confirmed
            )
            code = done.recorded.made[0] if done.recorded.made else ""
            return page(request, "received.html", who=who, done=done, code=code)
    except LotkinError as error:
        now = told(sent.texts, (), who.person)
        return _page(request, works, who, now, warnings=warnings, error=error)
    return _page(request, works, who, now, warnings=warnings)


def _papers(works: Works, sent: _Sent) -> list[Paper]:
    """Look at all documents, those of before too; new ones are kept."""
    before = []
    for each in sent.known:
        sha256, _, name = each.partition(" ")
        if len(sha256) != 64 or not sha256.isalnum():
            raise BadFile("document", "is not known here", hint="attach it again")
        before.append(Attachment(name or "document", works.documents.get(sha256)))
    papers = read_papers(works.documents, [*before, *sent.given])
    for paper in papers:
        works.documents.put(paper.content)
    return papers


def _read_label(works: Works, sent: _Sent) -> list[str]:
    """Put what a label says into the fields that are empty."""
    today = from_us(works.clock()).date()
    # a separator counts as a blank, and may stand at the end
    text = sent.texts["label"].strip(" \t\r\n")
    says = read_label(text, works.plan(), today, part=sent.texts.get("part", "").strip())
    for name, value in says.fields.items():
        if not sent.texts.get(name, "").strip():
            sent.texts[name] = written(value)
    return [warning for warning in (says.problem, *says.warnings) if warning]


def _page(
    request: Request,
    works: Works,
    who: Who,
    now: Told,
    *,
    warnings: list[str] | None = None,
    error: LotkinError | None = None,
) -> HTMLResponse:
    plan = works.plan()
    delivery = now.delivery
    context: dict[str, Any] = {
        "who": who,
        "texts": now.texts,
        "is_compared": delivery is not None and bool(delivery.compared_by),
        "mistakes": now.mistakes,
        "warnings": warnings or [],
        "error": error,
        "parts": plan.parts if plan is not None else (),
        "suppliers": plan.suppliers if plan is not None else (),
        "places_of_works": plan.shop_places if plan is not None else (),
        "papers": [],
        "lacking": [],
        "proposal": None,
        "lines": [],
    }
    if delivery is not None:
        context["papers"] = [_shown(works, paper, delivery.number) for paper in delivery.papers]
        context["lacking"] = delivery.lacks(plan)
        if not context["lacking"] and error is None:
            try:
                proposal = propose(works.store, delivery, works.clock)
                context["proposal"] = proposal
                context["lines"] = delivery_lines(proposal.event, plan, Places(plan))
            except LotkinError as failed:
                context["error"] = error = failed
    return page(
        request, "goods_in.html", status=status_of(error) if error is not None else 200, **context
    )


def _shown(works: Works, paper: Paper, number: str) -> dict[str, Any]:
    """Describe a document and what it seems to say of one heat or lot."""
    sha256 = works.documents.put(paper.content)
    reading = paper.reading
    composition = reading.composition_of(number) if reading is not None else {}
    results = reading.results_of(number) if reading is not None else {}
    return {
        "sha256": sha256,
        "name": paper.name,
        "is_picture": paper.media_type.startswith("image/"),
        "lines": reading_lines(paper.name, reading) if reading is not None else [],
        "type": reading.certificate_type.value if reading and reading.certificate_type else "",
        "composition": values_text({k: (v,) for k, v in composition.items()}),
        "mechanical": ", ".join(
            f"{k} {' '.join(f'{v:f}' for v in each)}" for k, each in results.items()
        ),
    }
