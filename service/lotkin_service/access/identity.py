"""Before each route: who sends the request, and whether a change comes from our own pages."""

from __future__ import annotations

import hmac
from typing import TYPE_CHECKING

from fastapi import Request

from lotkin.core.errors import StaleForm
from lotkin_service.access.cookies import SESSION, STATION

if TYPE_CHECKING:
    from lotkin_service.state import Works

__all__ = ["SAFE", "address_of", "check_origin", "identify"]

SAFE = frozenset({"GET", "HEAD", "OPTIONS"})
BEFORE_SIGN_IN = frozenset({"/sign-in", "/station/sign-in"})
WITH_ONE_TIME_PASSWORD = frozenset({"/password", "/sign-out"})
"""All that somebody sees whose password was given to them, before they choose one."""

FORMS = ("application/x-www-form-urlencoded", "multipart/form-data")


def identify(request: Request, works: Works) -> None:
    """Note who sends a request: a machine by its token, else a browser by its cookies.

    Raises:
        TooManyTries: Wrong tokens came from this address, again and again.
    """
    state = request.state
    state.who, state.csrf, state.by_cookie, state.must_change = None, "", False, False
    station = request.cookies.get(STATION, "")
    state.station = works.sign_in.station(station) if station else ""
    scheme, _, token = request.headers.get("authorization", "").partition(" ")
    if scheme.lower() == "bearer" and token:
        state.who = works.sign_in.machine(token.strip())
        if state.who is None:
            works.tries.count_token(address_of(request))
        return
    cookie = request.cookies.get(SESSION, "")
    found = works.sign_in.session(cookie) if cookie else None
    if found is not None:
        state.who, session = found
        state.csrf, state.by_cookie = session.csrf, True
        is_free = request.url.path in WITH_ONE_TIME_PASSWORD
        if not session.place and not is_free and works.sign_in.must_change(session.person):
            state.who, state.must_change = None, True


async def check_origin(request: Request) -> None:
    """Refuse a change that a page of others asks a browser for.

    Raises:
        StaleForm: It does not send what the session gave out, or says that it comes from elsewhere.
    """
    if request.method in SAFE:
        return
    from_where = request.headers.get("sec-fetch-site", "same-origin")
    if from_where not in ("same-origin", "none"):
        raise StaleForm
    if not request.state.by_cookie or request.url.path in BEFORE_SIGN_IN:
        return
    sent = request.headers.get("x-csrf-token", "")
    if not sent and request.headers.get("content-type", "").startswith(FORMS):
        sent = str((await request.form()).get("csrf", ""))
    if not hmac.compare_digest(sent.encode(), request.state.csrf.encode()):
        raise StaleForm


def address_of(request: Request) -> str:
    """Give the address that a request came from."""
    return request.client.host if request.client is not None else "nowhere"
