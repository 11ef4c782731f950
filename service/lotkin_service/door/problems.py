"""Errors as problem documents (RFC 9457) for programs, and as a page for people."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any
from urllib.parse import urlencode

from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, RedirectResponse
from starlette.exceptions import HTTPException

from lotkin.core.errors import (
    Ambiguous,
    Barred,
    DocumentMissing,
    Invalid,
    LotkinError,
    NotFound,
    NotSignedIn,
    Refused,
    TooManyTries,
    Unavailable,
    WrongSecret,
)
from lotkin_service.form.rendering import page

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from fastapi import FastAPI, Request
    from fastapi.responses import Response

__all__ = ["MEDIA_TYPE", "add_to", "answer_to", "status_of"]

MEDIA_TYPE = "application/problem+json"
MOST_PROBLEMS = 20
KINDS = {404: "no-such-page", 405: "no-such-method", 408: "too-slow", 413: "too-large"}

STATUS: tuple[tuple[type[LotkinError], int], ...] = (
    (NotSignedIn, 401),
    (WrongSecret, 401),
    (TooManyTries, 429),
    (Barred, 403),
    (NotFound, 404),
    (DocumentMissing, 404),
    (Ambiguous, 409),
    (Refused, 409),
    (Invalid, 422),
    (Unavailable, 503),
)


def status_of(error: LotkinError) -> int:
    """Give the HTTP status that goes with an error, by who can act on it."""
    return next((status for kind, status in STATUS if isinstance(error, kind)), 409)


class MalformedError(Invalid):
    """A request whose parts are not what they should be; all of them are listed."""

    kind = "malformed-request"

    def __init__(self, problems: Sequence[str]) -> None:
        self.problems = tuple(problems)
        super().__init__(
            f"the request is malformed: {problems[0]}",
            hint="the description at /api/v1/openapi.json says what it takes",
        )


class NoRouteError(LotkinError):
    """No route takes the request."""

    def __init__(self, kind: str, message: str) -> None:
        self.kind = kind  # type: ignore[misc]  # of the instance: it follows from the status
        super().__init__(message, hint="look at the start page")


def problem(
    error: LotkinError, status: int = 0, more_headers: dict[str, str] | None = None
) -> JSONResponse:
    """Write an error as a problem document with the members of the command's JSON errors."""
    status = status or status_of(error)
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
    headers = dict(more_headers or {})
    if status == 401:
        headers["WWW-Authenticate"] = "Bearer"
    if isinstance(error, TooManyTries):
        headers["Retry-After"] = str(error.seconds)
    return JSONResponse(content, status, headers, media_type=MEDIA_TYPE)


def _address(request: Request) -> str:
    """Give where somebody wanted to go, to lead them there after the sign-in."""
    query = f"?{request.url.query}" if request.url.query else ""
    return f"{request.url.path}{query}" if request.method == "GET" else "/"


async def _on_ours(request: Request, error: Exception) -> Response:
    assert isinstance(error, LotkinError)
    if request.url.path.startswith("/api/"):
        return problem(error)
    if isinstance(error, NotSignedIn):
        if getattr(request.state, "must_change", False):
            return RedirectResponse("/password", 303)
        return RedirectResponse(f"/sign-in?{urlencode({'next': _address(request)})}", 303)
    return page(request, "problem.html", status=status_of(error), error=error)


async def _on_malformed(request: Request, error: Exception) -> Response:
    """Answer a request whose parts are not what they should be."""
    assert isinstance(error, RequestValidationError)
    said = [_where(each) for each in error.errors()[:MOST_PROBLEMS]]
    found = MalformedError(said)
    if request.url.path.startswith("/api/"):
        return problem(found)
    return page(request, "problem.html", status=422, error=found)


def _where(each: Mapping[str, Any]) -> str:
    place = ".".join(str(part) for part in each["loc"][1:]) or str(each["loc"][0])
    return f"{place}: {each['msg']}"


async def _on_http(request: Request, error: Exception) -> Response:
    """Answer for what no route takes."""
    assert isinstance(error, HTTPException)
    found = NoRouteError(KINDS.get(error.status_code, "http"), str(error.detail))
    if request.url.path.startswith("/api/"):
        return problem(found, error.status_code, dict(error.headers or {}))
    return page(request, "problem.html", status=error.status_code, error=found)


async def answer_to(request: Request, error: LotkinError | HTTPException) -> Response:
    """Answer for what went wrong before any route was looked for."""
    return await (_on_ours if isinstance(error, LotkinError) else _on_http)(request, error)


def add_to(app: FastAPI) -> None:
    """Let an app answer with problems."""
    app.add_exception_handler(LotkinError, _on_ours)
    app.add_exception_handler(RequestValidationError, _on_malformed)
    app.add_exception_handler(HTTPException, _on_http)
