"""Signing in at a desk or a station, out again, and changing one's password."""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING, Annotated, TypeVar
from urllib.parse import urlsplit

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from pydantic import BaseModel, Field
from starlette.concurrency import run_in_threadpool

from lotkin.core.access.rights import Who
from lotkin.core.errors import LotkinError, NotSignedIn, TooManyTries, WrongSecret
from lotkin_service.access.cookies import SESSION, forget, keep_session
from lotkin_service.access.guard import Asker
from lotkin_service.access.identity import address_of
from lotkin_service.door.problems import status_of
from lotkin_service.form.rendering import page
from lotkin_service.state import TheWorks, Works

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["router"]

Found = TypeVar("Found")

router = APIRouter(include_in_schema=False)

Short = Annotated[str, Form(max_length=300)]


class Badge(BaseModel):
    """Who signs in at a station."""

    badge: str = Field(max_length=200)
    pin: str = Field(max_length=20)


@router.get("/sign-in")
def ask(request: Request, next: str = "/") -> HTMLResponse:  # noqa: A002 - the name in the address
    """Show the sign-in."""
    return page(request, "sign_in.html", next=_inside(next), error=None)


@router.post("/sign-in")
async def sign_in(
    request: Request,
    works: TheWorks,
    person: Short,
    password: Short,
    next: Annotated[str, Form(max_length=2000)] = "/",  # noqa: A002 - the name in the form
) -> Response:
    """Let somebody in by password."""
    try:
        token, must_change = await _let_in(request, works, person.strip(), password)
    except (WrongSecret, TooManyTries) as error:
        again = {"next": _inside(next), "error": error}
        return page(request, "sign_in.html", status=status_of(error), **again)
    onward = "/password" if must_change else _inside(next)
    answer = RedirectResponse(onward, 303)
    keep_session(answer, token, works)
    return answer


@router.post("/station/sign-in")
async def sign_in_at_station(request: Request, works: TheWorks, sent: Badge) -> JSONResponse:
    """Let somebody in by badge and PIN, at an enrolled station."""
    place: str = request.state.station
    if not place:
        raise NotSignedIn
    token, _ = await _let_in(request, works, sent.badge.strip(), sent.pin, place)
    before = request.cookies.get(SESSION, "")
    if before:  # whoever was signed in here has gone
        await run_in_threadpool(works.sign_in.leave, before)
    answer = JSONResponse({"person": sent.badge.strip()})
    keep_session(answer, token, works)
    return answer


async def _let_in(
    request: Request, works: Works, person: str, secret: str, place: str = ""
) -> tuple[str, bool]:
    """Let somebody in; gives their token, and whether their password must be changed."""

    def look() -> tuple[str, bool]:
        token, _ = works.sign_in.by_secret(person, secret, place=place)
        return token, works.sign_in.must_change(person)

    return await _proven(request, works, person, look)


async def _proven(request: Request, works: Works, person: str, look: Callable[[], Found]) -> Found:
    """Look at a secret when it is its turn; the try counts from now on.

    Raises:
        TooManyTries: Too many were wrong, or wait for their turn.
        WrongSecret: This one is wrong.
    """
    with works.tries.trying(address_of(request), person):
        return await asyncio.get_running_loop().run_in_executor(works.proving, look)


@router.post("/sign-out")
def sign_out(request: Request, works: TheWorks) -> RedirectResponse:
    """End a session."""
    token = request.cookies.get(SESSION, "")
    if token:
        works.sign_in.leave(token)
    answer = RedirectResponse("/station" if request.state.station else "/sign-in", 303)
    forget(answer, SESSION, works)
    return answer


@router.get("/password")
def ask_for_password(request: Request, works: TheWorks, who: Asker) -> HTMLResponse:
    """Show the form for a new password."""
    return _password_page(request, works, who, None)


@router.post("/password")
async def change_password(
    request: Request, works: TheWorks, who: Asker, old: Short, new: Short
) -> Response:
    """Change one's password; one signs in anew then."""

    def change() -> None:
        works.sign_in.change_password(who.person, old, new)

    try:
        await _proven(request, works, who.person, change)
    except LotkinError as error:
        return await run_in_threadpool(_password_page, request, works, who, error)
    answer = RedirectResponse("/sign-in", 303)
    forget(answer, SESSION, works)
    return answer


def _password_page(
    request: Request, works: Works, who: Who, error: LotkinError | None
) -> HTMLResponse:
    once = works.sign_in.must_change(who.person)
    status = status_of(error) if error is not None else 200
    return page(request, "password.html", status=status, who=who, once=once, error=error)


def _inside(address: str) -> str:
    """Keep an address if it leads to a page of ours, else give the first page."""
    try:
        parts = urlsplit(address)
    except ValueError:
        return "/"
    is_ours = address.startswith("/") and not address.startswith(("//", "/\\"))
    is_plain = address.isprintable() and "\\" not in address
    return address if is_ours and is_plain and not parts.scheme and not parts.netloc else "/"
