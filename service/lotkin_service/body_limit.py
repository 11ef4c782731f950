"""How much a request may bring along."""

from __future__ import annotations

from typing import TYPE_CHECKING

from starlette.datastructures import Headers
from starlette.exceptions import HTTPException

from lotkin.uses.attachments import LARGEST_TOGETHER

if TYPE_CHECKING:
    from starlette.types import ASGIApp, Message, Receive, Scope, Send

__all__ = ["MOST_BYTES", "BodyLimit"]

MOST_BYTES = LARGEST_TOGETHER + 2 * 1024**2
"""All documents of one delivery, and the form around them."""


class BodyLimit:
    """Refuses a request that brings more, as soon as that is known; nothing more is read of it."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, counting what it brings."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        length = Headers(scope=scope).get("content-length", "")
        said = int(length) if length.isdecimal() and len(length) < 20 else 0
        read = 0

        async def receive_counted() -> Message:
            nonlocal read
            message = await receive()
            read += len(message.get("body", b""))
            if max(said, read) > MOST_BYTES:
                raise HTTPException(413, f"it brings more than {MOST_BYTES // 1024**2} MiB")
            return message

        await self.app(scope, receive_counted, send)
