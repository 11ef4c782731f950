"""Routes whose JSON is read beside the answering, so that it holds up nobody else."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from fastapi import Request
from fastapi.routing import APIRoute
from starlette.concurrency import run_in_threadpool

if TYPE_CHECKING:
    from collections.abc import Callable, Coroutine

    from starlette.responses import Response

__all__ = ["ReadAside"]

SHORT = 16 * 1024
"""Bytes that are read sooner than handed over."""


class _Aside(Request):
    """A request whose JSON is read in a thread of its own."""

    async def json(self) -> Any:
        """Read the body as JSON."""
        if len(await self.body()) <= SHORT:
            return await super().json()
        return await run_in_threadpool(json.loads, await self.body())


class ReadAside(APIRoute):
    """A route of the interface for programs."""

    def get_route_handler(self) -> Callable[[Request], Coroutine[Any, Any, Response]]:
        """Give what answers a request."""
        answer = super().get_route_handler()

        async def answer_aside(request: Request) -> Response:
            return await answer(_Aside(request.scope, request.receive))

        return answer_aside
