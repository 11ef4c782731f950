"""The door: who sends a request comes first, then how much it brings and how long that takes.

Only headers are read until then. Nothing of what somebody brings who may not is taken in.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from fastapi import Request
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException

from lotkin.core.errors import LotkinError, NotSignedIn
from lotkin_service.access.brought import Brought
from lotkin_service.access.identity import SAFE, identify
from lotkin_service.door.body_limit import is_open, most_bytes
from lotkin_service.door.problems import answer_to

if TYPE_CHECKING:
    from starlette.types import ASGIApp, Receive, Scope, Send

    from lotkin_service.state import Works

__all__ = ["Door"]


class Door:
    """Finds out who is there before anything else of a request is looked at."""

    def __init__(self, app: ASGIApp, *, works: Works) -> None:
        self.app, self.works = app, works

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request in, or answer it here."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        request = Request(scope)
        brought = Brought(scope, receive, send)
        try:
            await run_in_threadpool(identify, request, self.works)
            self._look(request, brought)
        except (LotkinError, HTTPException) as error:
            refusal = await answer_to(request, error)
            await refusal(scope, brought.receive, brought.send)
            return
        await self.app(scope, brought.receive, brought.send)

    @staticmethod
    def _look(request: Request, brought: Brought) -> None:
        """Refuse what is known to be wrong by the headers alone.

        Raises:
            NotSignedIn: Nobody known sends something to where one must be.
            HTTPException: It says that it brings more than it may.
        """
        who, path = request.state.who, request.url.path
        if request.method not in SAFE and who is None and not is_open(path):
            raise NotSignedIn
        brought.expect(most_bytes(request.method, path, who))
