"""What the service says of its work: a line for each request, with an id and no secret."""

from __future__ import annotations

import logging
import re
import sys
import time
import uuid
from typing import TYPE_CHECKING

from pythonjsonlogger.json import JsonFormatter
from starlette.datastructures import Headers, MutableHeaders

if TYPE_CHECKING:
    from starlette.types import ASGIApp, Message, Receive, Scope, Send

    from lotkin_service.door.metrics import Metrics

__all__ = ["LOG", "Logged", "set_up_logs"]

LOG = logging.getLogger("lotkin.service")
GOOD_ID = re.compile(r"[A-Za-z0-9._-]{8,64}")


def set_up_logs(level: str) -> None:
    """Write a JSON object a line to standard error; for people if that is a terminal."""
    writer = logging.StreamHandler(sys.stderr)
    if sys.stderr.isatty():
        writer.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(message)s"))
    else:
        fields = "%(asctime)s %(levelname)s %(name)s %(message)s"
        writer.setFormatter(JsonFormatter(fields, rename_fields={"asctime": "at"}))
    for name in ("lotkin", "uvicorn", "uvicorn.error"):
        logger = logging.getLogger(name)
        logger.handlers, logger.propagate = [], name == "uvicorn.error"
        logger.setLevel(level.upper())
    for name in ("lotkin", "uvicorn"):
        logging.getLogger(name).addHandler(writer)


class Logged:
    """Notes each request when it is answered: route, status, time taken, and who asked.

    Neither what follows a `?` nor any header or body is written: codes, PINs, passwords and tokens
    stay out.
    """

    def __init__(self, app: ASGIApp, *, metrics: Metrics) -> None:
        self.app, self.metrics = app, metrics

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on and note what became of it."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        given = Headers(scope=scope).get("x-request-id", "")
        number = given if GOOD_ID.fullmatch(given) else uuid.uuid4().hex
        began, status = time.perf_counter(), 500

        async def send_with_id(message: Message) -> None:
            nonlocal status
            if message["type"] == "http.response.start":
                status = message["status"]
                MutableHeaders(scope=message)["X-Request-Id"] = number
            await send(message)

        try:
            await self.app(scope, receive, send_with_id)
        finally:
            self._note(scope, number, status, time.perf_counter() - began)

    def _note(self, scope: Scope, number: str, status: int, seconds: float) -> None:
        route = getattr(scope.get("route"), "path", "") or "no route"
        who = scope.get("state", {}).get("who")
        self.metrics.answered(scope["method"], route, status, seconds)
        LOG.info(
            "%s %s %s",
            scope["method"],
            route,
            status,
            extra={
                "request": number,
                "method": scope["method"],
                "route": route,
                "status": status,
                "ms": round(seconds * 1000, 1),
                "person": who.person if who is not None else "",
            },
        )
