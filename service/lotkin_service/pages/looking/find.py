"""Finding an item by anything scanned or typed; and where printed codes lead to."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import RedirectResponse, Response

from lotkin.core.errors import LotkinError, NotAnItem
from lotkin.uses.lookup.find import find
from lotkin_service.access.guard import Asker
from lotkin_service.door.problems import status_of
from lotkin_service.form.rendering import page
from lotkin_service.state import TheWorks

__all__ = ["router"]

router = APIRouter(include_in_schema=False)


@router.get("/find")
def found(
    request: Request,
    works: TheWorks,
    who: Asker,
    q: Annotated[str, Query(max_length=4000)] = "",
) -> Response:
    """Lead to the item that a text means, or list those that it may mean."""
    if not q.strip():
        return RedirectResponse("/", 303)
    try:
        code = find(works.asked, q).item.code
    except LotkinError as error:
        if isinstance(error, NotAnItem) and error.what == "case":
            return RedirectResponse(f"/cases/{quote(error.record, safe='')}", 303)
        candidates = getattr(error, "candidates", ())
        context = {"who": who, "error": error, "candidates": candidates}
        return page(request, "candidates.html", status=status_of(error), **context)
    return RedirectResponse(f"/i/{quote(code, safe='')}", 303)


@router.get("/I/{code:path}")
def printed(who: Asker, code: Annotated[str, Path(max_length=4000)]) -> RedirectResponse:
    """Lead from the address on a label, which is in capitals, to the page."""
    return RedirectResponse(f"/i/{quote(code, safe='')}", 303)


@router.get("/01/{gtin}/21/{serial:path}")
def goods(
    request: Request,
    works: TheWorks,
    who: Asker,
    gtin: Annotated[str, Path(max_length=14)],
    serial: Annotated[str, Path(max_length=60)],
) -> Response:
    """Lead from the GS1 Digital Link on finished goods to the unit."""
    address = f"https://id.gs1.org/01/{gtin}/21/{quote(serial, safe='')}"
    return found(request, works, who, address)
