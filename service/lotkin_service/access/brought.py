"""What a request brings: counted and timed while it is read, let go of after the answer."""

from __future__ import annotations

import asyncio
import time
from typing import TYPE_CHECKING

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException

if TYPE_CHECKING:
    from starlette.types import Message, Receive, Scope, Send

__all__ = ["LONGEST_SILENCE_S", "Brought"]

LONGEST_SILENCE_S = 20.0
"""Nothing comes for so long: the sender is gone, or keeps a connection busy on purpose."""

SLOWEST_BYTES_A_S = 16 * 1024
"""A slower line than this is none; without it one byte now and then would do."""

LINGERS_S = 5.0
LINGERS_BYTES = 80 * 1024**2
"""How long, and for how much, a sender who is still sending may take to see the answer.

A connection that is closed with something unread is reset, and the answer may be lost with it.
Source: RFC 9112, 9.6.
"""


class Brought:
    """The body of a request, on its way to whoever reads it.

    Args:
        scope: Of the request.
        receive: Gives the body.
        send: Takes the answer.
    """

    def __init__(self, scope: Scope, receive: Receive, send: Send) -> None:
        headers = Headers(scope=scope)
        length = headers.get("content-length", "")
        self._said = int(length) if length.isdecimal() and len(length) < 20 else 0
        self._is_whole = not self._said and "transfer-encoding" not in headers
        self._receive, self._send = receive, send
        self._read = self._most = 0
        self._ends_at = time.monotonic() + LONGEST_SILENCE_S
        self._is_answered = False

    def expect(self, most: int) -> None:
        """Set how much it may be.

        Raises:
            HTTPException: It says that it is more.
        """
        self._most = most
        self._ends_at = time.monotonic() + LONGEST_SILENCE_S + most / SLOWEST_BYTES_A_S
        if self._said > most:
            raise self._too_much()

    def _too_much(self) -> HTTPException:
        most = self._most // 1024
        words = f"{most // 1024} MiB" if most >= 1024 else f"{most} KiB"
        return HTTPException(413, f"it brings more than the {words} that are taken here")

    async def receive(self) -> Message:
        """Give the next piece.

        Raises:
            HTTPException: There is too much, or it comes too slowly.
        """
        if self._is_whole:
            return await self._receive()
        patience = min(LONGEST_SILENCE_S, self._ends_at - time.monotonic())
        try:
            message = await asyncio.wait_for(self._receive(), max(0.0, patience))
        except TimeoutError:
            return self._give_up(HTTPException(408, "it comes too slowly"))
        self._read += len(message.get("body", b""))
        if self._read > self._most:
            return self._give_up(self._too_much())
        self._is_whole = not message.get("more_body", False)
        return message

    def _give_up(self, why: HTTPException) -> Message:
        """Refuse it, or stop listening where an answer is already on its way."""
        if self._is_answered:
            return {"type": "http.disconnect"}
        raise why

    async def send(self, message: Message) -> None:
        """Send the answer; a connection over which something else would come is closed after it."""
        if message["type"] == "http.response.start":
            self._is_answered = True
            if not self._is_whole:
                MutableHeaders(scope=message)["Connection"] = "close"
        elif message["type"] == "http.response.body" and not (
            self._is_whole or message.get("more_body", False)
        ):
            await self._send({**message, "more_body": True})
            await self._let_go()
            message = {"type": "http.response.body", "body": b"", "more_body": False}
        await self._send(message)

    async def _let_go(self) -> None:
        """Take what still comes and keep nothing of it, for a short while."""
        left, ends_at = LINGERS_BYTES, time.monotonic() + LINGERS_S
        while left > 0:
            try:
                patience = max(0.0, ends_at - time.monotonic())
                message = await asyncio.wait_for(self._receive(), patience)
            except TimeoutError:
                return
            left -= len(message.get("body", b""))
            if not message.get("more_body", False):
                return
