"""`/health`: whether the service can answer; open to everybody. `/metrics`: figures of it."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import Response
from pydantic import BaseModel

from lotkin.core.errors import NotSignedIn
from lotkin_service.access.identity import address_of
from lotkin_service.works import TheWorks

__all__ = ["router"]

router = APIRouter(tags=["health"])


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
    """Give figures in the text format of Prometheus: to this machine, or to who shows a token."""
    if request.state.who is None and address_of(request) not in ("127.0.0.1", "::1"):
        raise NotSignedIn
    return Response(works.metrics.text(works), media_type="text/plain; version=0.0.4")
