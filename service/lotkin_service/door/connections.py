"""Connections: those that send no request are closed, and never shut others out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from uvicorn.protocols.http.h11_impl import H11Protocol

if TYPE_CHECKING:
    import asyncio

__all__ = ["HEADERS_WITHIN_S", "MOST_WITHOUT_REQUEST", "Connection", "most_connections"]

HEADERS_WITHIN_S = 10.0
"""From the first moment of a connection, or the first byte of a later request, to the end of its
headers. Ten to twenty seconds: common practice, no source."""

MOST_WITHOUT_REQUEST = 256
"""Connections whose headers have not come yet; the oldest makes room for the next."""

MOST_CONNECTIONS, FEWEST_CONNECTIONS = 4096, 256
FILES_OF_OUR_OWN = 128
"""The store, its copies, documents, logs."""


class Connection(H11Protocol):
    """A connection that has its headers sent in time, or is closed.

    Args:
        waiting: All connections of the service whose headers have not come, oldest first.
        named: As the server makes any connection.
    """

    def __init__(self, *, waiting: dict[Connection, None], **named: Any) -> None:
        super().__init__(**named)
        self._waiting = waiting
        self._too_late: asyncio.TimerHandle | None = None
        self._seen: object = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin to wait for headers; if too many do, close the one that has waited longest."""
        super().connection_made(transport)
        self._wait()
        if len(self._waiting) > MOST_WITHOUT_REQUEST:
            next(iter(self._waiting)).cut_off()

    def connection_lost(self, exc: Exception | None) -> None:
        """Wait no more."""
        self._wait_no_more()
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Take bytes; whether they end the headers is told by whether a request has begun."""
        is_idle = self.cycle is self._seen and getattr(self.cycle, "response_complete", True)
        if is_idle and self._too_late is None:
            self._wait()
        super().data_received(data)
        if self.cycle is not self._seen:
            self._seen = self.cycle
            self._wait_no_more()

    def _wait(self) -> None:
        self._waiting[self] = None
        self._too_late = self.loop.call_later(HEADERS_WITHIN_S, self.cut_off)

    def _wait_no_more(self) -> None:
        self._waiting.pop(self, None)
        if self._too_late is not None:
            self._too_late.cancel()
            self._too_late = None

    def cut_off(self) -> None:
        """Close it at once."""
        self._wait_no_more()
        self.transport.abort()


def most_connections() -> int:
    """Raise the limit on open files as far as one may, and tell how many connections that bears."""
    try:
        import resource  # noqa: PLC0415 - not on every system
    except ImportError:
        return FEWEST_CONNECTIONS
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    wanted = MOST_CONNECTIONS + FILES_OF_OUR_OWN
    if hard != resource.RLIM_INFINITY:
        wanted = min(wanted, hard)
    if soft != resource.RLIM_INFINITY and soft < wanted:
        resource.setrlimit(resource.RLIMIT_NOFILE, (wanted, hard))
        soft = wanted
    if soft == resource.RLIM_INFINITY:
        return MOST_CONNECTIONS
    return max(FEWEST_CONNECTIONS, min(MOST_CONNECTIONS, soft - FILES_OF_OUR_OWN))
