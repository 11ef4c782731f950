"""The first page."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from lotkin_service.access.guard import Asker
from lotkin_service.pages.rendering import page

__all__ = ["router"]

router = APIRouter(include_in_schema=False)


@router.get("/")
def start(request: Request, who: Asker) -> HTMLResponse:
    """Show what can be done here."""
    return page(request, "start.html", who=who)
