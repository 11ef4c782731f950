"""The page of an item, and the picture of what it went into."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, Literal
from urllib.parse import quote, urlencode

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import RedirectResponse, Response

from lotkin.core.errors import NotAnItem
from lotkin.core.values.kinds import FAMILY_OF
from lotkin.uses.asking.show import show
from lotkin.uses.asking.where import where_from, where_used
from lotkin_answers.places import Places
from lotkin_answers.words import listed
from lotkin_service.access.guard import Asker
from lotkin_service.form.listing import part_of
from lotkin_service.form.rendering import page
from lotkin_service.pages.looking.picture import picture_of
from lotkin_service.state import TheWorks

if TYPE_CHECKING:
    from lotkin.uses.asking.show import Shown

__all__ = ["router"]

router = APIRouter(include_in_schema=False)


@router.get("/i/{code:path}")
def item(
    request: Request,
    works: TheWorks,
    who: Asker,
    code: Annotated[str, Path(max_length=4000)],
    way: Literal["", "used", "from"] = "",
    number: Annotated[int, Query(alias="page", ge=1, le=10**6)] = 1,
) -> Response:
    """Show an item: what it is, where it is, its history, and both ways from it."""
    try:
        shown = show(works.asked, code)
    except NotAnItem as other:
        if other.what != "case":
            raise
        return RedirectResponse(f"/cases/{quote(other.record, safe='')}", 303)
    plan = works.plan()
    context: dict[str, Any] = {
        "who": who,
        "shown": shown,
        "part": plan.part(shown.item.part) if plan is not None else None,
        "places": Places(plan),
        "documents": _documents(shown),
        "way": way,
        "listing": None,
        "picture": None,
    }
    if way:
        ask = where_used if way == "used" else where_from
        answer = ask(works.asked, shown.item.code)
        context["listing"] = part_of(request, answer.items, number)
        context["counts"] = listed(answer.counts.items()) or "nothing"
        apart = kinds_apart(request)
        context["picture"] = picture_of(answer, apart, lambda kind: with_apart(request, kind))
        context["picture_query"] = urlencode(
            [("code", shown.item.code), ("way", way), *(("apart", kind) for kind in apart)]
        )
    return page(request, "item.html", **context)


def _documents(shown: Shown) -> list[dict[str, str]]:
    """List the documents that came with an item, newest event last."""
    found: dict[str, str] = {}
    for entry in shown.history:
        documents = entry.data.get("documents") if entry.kind == "receive" else None
        for each in documents if isinstance(documents, list) else ():
            if isinstance(each, dict):
                found[str(each["sha256"])] = str(each["name"])
    return [{"sha256": sha256, "name": name} for sha256, name in found.items()]


@router.get("/picture.svg")
def picture(
    request: Request,
    works: TheWorks,
    who: Asker,
    code: Annotated[str, Query(max_length=4000)],
    way: Literal["used", "from"] = "used",
) -> Response:
    """Give the picture of one way from an item, to be kept."""
    answer = (where_used if way == "used" else where_from)(works.asked, code)
    drawn = picture_of(answer, kinds_apart(request))
    headers = {"Content-Disposition": 'attachment; filename="genealogy.svg"'}
    return Response(str(drawn), headers=headers, media_type="image/svg+xml")


def kinds_apart(request: Request) -> list[str]:
    """List the kinds that the address wants drawn item by item."""
    return [kind for kind in request.query_params.getlist("apart")[:20] if kind in FAMILY_OF]


def with_apart(request: Request, kind: str) -> str:
    """Give the address of the same page with one more kind drawn item by item."""
    query = [*request.query_params.multi_items(), ("apart", kind)]
    return f"{request.url.path}?{urlencode(query)}#picture"
