"""`/health`: whether the service can answer; open to everybody. `/metrics`: figures of it."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import Response
from pydantic import BaseModel

from lotkin.core.errors import NotSignedIn
from lotkin_service.access.identity import address_of
from lotkin_service.state import TheWorks

__all__ = ["router"]

router = APIRouter(tags=["health"])

PASSED_ON = ("forwarded", "via", "x-forwarded-for", "x-real-ip")
"""What proxies add. Source: RFC 7239 and RFC 9110, 7.6.3; the others common practice, no source."""


class Health(BaseModel):
    """Whether the service can answer."""

    status: str


@router.get("/health")
def health(works: TheWorks) -> Health:
    """Tell whether the store can be read."""
    with works.store.reading() as view:
        view.journal_head()
    return Health(status="ok")


@router.get("/metrics", include_in_schema=False)
def metrics(request: Request, works: TheWorks) -> Response:
    """Give figures in the text format of Prometheus: to this machine, or to who shows a token.

    What a proxy on this machine passes on comes from elsewhere.
    """
    is_near = address_of(request) in ("127.0.0.1", "::1")
    is_passed_on = any(name in request.headers for name in PASSED_ON)
    if request.state.who is None and (is_passed_on or not is_near):
        raise NotSignedIn
    with works.store.reading() as view:
        head, _ = view.journal_head()
    return Response(works.metrics.text(head), media_type="text/plain; version=0.0.4")
