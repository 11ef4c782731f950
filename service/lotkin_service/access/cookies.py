"""The cookies of the service: who is signed in, and which station a device is."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from starlette.responses import Response

    from lotkin_service.state import Works

__all__ = ["SESSION", "STATION", "forget", "keep_session", "keep_station"]

SESSION = "lotkin_session"
STATION = "lotkin_station"
TEN_YEARS_S = 10 * 365 * 24 * 3600


def keep_session(response: Response, token: str, works: Works) -> None:
    """Let a browser keep a session until it is closed.

    Lax, not Strict: a label scanned by a phone's camera leads here from elsewhere, and whoever is
    signed in is to see the item; what changes anything needs the session's own form token as well.
    """
    response.set_cookie(
        SESSION, token, httponly=True, samesite="lax", secure=works.settings.secure, path="/"
    )


def keep_station(response: Response, token: str, works: Works) -> None:
    """Let a device keep that it is a station."""
    response.set_cookie(
        STATION,
        token,
        max_age=TEN_YEARS_S,
        httponly=True,
        samesite="lax",
        secure=works.settings.secure,
        path="/",
    )


def forget(response: Response, cookie: str, works: Works) -> None:
    """Take a cookie away."""
    response.delete_cookie(
        cookie, httponly=True, samesite="lax", secure=works.settings.secure, path="/"
    )
