"""Errors as problem documents (RFC 9457) for programs, and as a page for people."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fastapi.responses import JSONResponse, RedirectResponse

from lotkin.core.errors import (
    Ambiguous,
    Barred,
    Invalid,
    LotkinError,
    NotFound,
    NotSignedIn,
    Refused,
    TooManyTries,
    Unavailable,
    WrongSecret,
)
from lotkin_service.pages.rendering import page

if TYPE_CHECKING:
    from fastapi import FastAPI, Request
    from fastapi.responses import Response

__all__ = ["MEDIA_TYPE", "add_to", "status_of"]

MEDIA_TYPE = "application/problem+json"

STATUS: tuple[tuple[type[LotkinError], int], ...] = (
    (NotSignedIn, 401),
    (WrongSecret, 401),
    (TooManyTries, 429),
    (Barred, 403),
    (NotFound, 404),
    (Ambiguous, 409),
    (Refused, 409),
    (Invalid, 422),
    (Unavailable, 503),
)


def status_of(error: LotkinError) -> int:
    """Give the HTTP status that goes with an error, by who can act on it."""
    return next((status for kind, status in STATUS if isinstance(error, kind)), 409)


def problem(error: LotkinError) -> JSONResponse:
    """Write an error as a problem document with the members of the command's JSON errors."""
    status = status_of(error)
    content: dict[str, object] = {
        "type": f"urn:lotkin:problem:{error.kind}",
        "title": error.kind.replace("-", " "),
        "status": status,
        "detail": error.message,
        "kind": error.kind,
        "record": error.record,
        "hint": error.hint,
    }
    for more in ("problems", "candidates"):
        if found := getattr(error, more, ()):
            content[more] = list(found)
    headers = {"WWW-Authenticate": "Bearer"} if status == 401 else {}
    if isinstance(error, TooManyTries):
        headers["Retry-After"] = str(error.seconds)
    return JSONResponse(content, status, headers, media_type=MEDIA_TYPE)


async def _on_ours(request: Request, error: Exception) -> Response:
    assert isinstance(error, LotkinError)
    if request.url.path.startswith("/api/"):
        return problem(error)
    if isinstance(error, NotSignedIn):
        return RedirectResponse(f"/sign-in?next={request.url.path}", 303)
    return page(request, "problem.html", status=status_of(error), error=error)


def add_to(app: FastAPI) -> None:
    """Let an app answer with problems."""
    app.add_exception_handler(LotkinError, _on_ours)
