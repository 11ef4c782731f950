"""The page of a station, and what lets it come up again while the service is away."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING, Annotated

from fastapi import APIRouter, Depends, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from lotkin.core.access.rights import Right, Who
from lotkin.core.errors import NoPlan, NotAllowed, NotSignedIn, UnknownCode
from lotkin_service.access.guard import Worker, who_if_any
from lotkin_service.form.rendering import STATIC, environment, page
from lotkin_service.state import TheWorks

if TYPE_CHECKING:
    from lotkin.core.plan import PlacePlan, ShopPlan

__all__ = ["router"]

router = APIRouter(include_in_schema=False)

SHOWN = ("station", "dispatch", "shelf", "quarantine")
FILES = (
    "lotkin.css",
    "station/station.css",
    *(f"station/{name}.js" for name in ("station", "camera", "queue", "scanner", "signals")),
    *(f"station/{name}.js" for name in ("talk", "view", "sign-in", "wedge")),
)


@router.get("/station")
def station(
    request: Request,
    works: TheWorks,
    who: Annotated[Who | None, Depends(who_if_any)],
    place: Annotated[str, Query(max_length=80)] = "",
) -> HTMLResponse:
    """Show the station that this device is, or that is asked for; else let one be chosen."""
    enrolled: str = getattr(request.state, "station", "")
    if who is None and not enrolled:
        raise NotSignedIn
    if who is not None and not who.may(Right.WORK):
        raise NotAllowed(who.name, Right.WORK.value)
    plan = works.plan()
    code = enrolled or place
    if not code:
        return page(request, "station_choice.html", who=who, places=_places(plan))
    if plan is None:
        raise NoPlan
    found = plan.place(code)
    if found is None:
        raise UnknownCode(code, near=[each.code for each in _places(plan)])
    template = "station.html" if who is not None else "station_sign_in.html"
    return page(request, template, place=found, who=who, enrolled=bool(enrolled), badge="")


@router.get("/station/badge")
def badge(
    request: Request,
    works: TheWorks,
    who: Worker,
    badge: Annotated[str, Query(max_length=200)] = "",
) -> Response:
    """Ask for the PIN of somebody whose badge was scanned while another is signed in."""
    enrolled: str = getattr(request.state, "station", "")
    plan = works.plan()
    found = plan.place(enrolled) if plan is not None and enrolled else None
    if found is None:
        return RedirectResponse("/station", 303)
    return page(request, "station_sign_in.html", place=found, who=who, badge=badge)


def _places(plan: ShopPlan | None) -> list[PlacePlan]:
    """List the places of the works, stations first."""
    if plan is None:
        return []
    inside = [place for place in plan.places().values() if place.kind in SHOWN]
    return sorted(inside, key=lambda place: (SHOWN.index(place.kind), place.name))


@router.get("/station/worker.js")
def worker() -> Response:
    """Give the script that keeps the page on the device; it names the files of this version."""
    digest = hashlib.sha256()
    for name in FILES:
        digest.update((STATIC / name).read_bytes())
    files = [f"/static/{name}" for name in FILES]
    text = environment.get_template("worker.js").render(
        version=digest.hexdigest()[:16], files=files
    )
    headers = {"Cache-Control": "no-cache", "Service-Worker-Allowed": "/station"}
    return Response(text, media_type="text/javascript", headers=headers)


@router.get("/station/manifest.json")
def manifest() -> JSONResponse:
    """Let a device put the station on its first screen."""
    return JSONResponse(
        {
            "name": "lotkin station",
            "short_name": "Station",
            "start_url": "/station",
            "scope": "/station",
            "display": "standalone",
        },
        media_type="application/manifest+json",
    )
