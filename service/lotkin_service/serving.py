"""Running the service: one process, many threads, stopped without cutting answers off."""

from __future__ import annotations

import socket
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

import uvicorn

from lotkin.core.errors import Unavailable
from lotkin_service.app import make_app
from lotkin_service.door.connections import Connection, most_connections
from lotkin_service.door.logs import LOG, set_up_logs

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from lotkin_service.settings import ServiceSettings

__all__ = ["Listening", "serve"]

GRACE_S = 10
IDLE_S = 5
"""A connection between two requests is kept for so long."""
WAITING = 512


@dataclass(frozen=True, slots=True)
class Listening:
    """Where the service listens.

    Attributes:
        host, port: Address; port 0 takes any that is free.
        certificate, key: Files for TLS; None for plain HTTP.
        log_level: `info`, `warning` …
    """

    host: str
    port: int
    certificate: Path | None = None
    key: Path | None = None
    log_level: str = "info"


def serve(
    settings: ServiceSettings, listening: Listening, tell: Callable[[str, str], None]
) -> None:
    """Serve until told to stop.

    Args:
        settings: What the service is about.
        listening: Where.
        tell: Told the address and, at the very first start, the admin's one-time password; both go
            to whoever started the service, and to no log.

    Raises:
        Unavailable: The store cannot be used, or the address is taken.
    """
    set_up_logs(listening.log_level)
    app = make_app(settings)
    works = app.state.works
    taken = _bound(listening)
    scheme = "https" if listening.certificate else "http"
    tell(f"{scheme}://{listening.host}:{taken.getsockname()[1]}/", works.sign_in.first_password())
    most = most_connections()
    LOG.info("bears %d connections", most)
    waiting: dict[Connection, None] = {}
    config = uvicorn.Config(
        app,
        http=partial(Connection, waiting=waiting),  # type: ignore[arg-type]  # made as a class is
        ws="none",
        limit_concurrency=most,
        timeout_keep_alive=IDLE_S,
        log_config=None,
        access_log=False,
        proxy_headers=False,
        server_header=False,
        ssl_certfile=listening.certificate,
        ssl_keyfile=listening.key,
        timeout_graceful_shutdown=GRACE_S,
    )
    server = uvicorn.Server(config)
    works.stops_when = lambda: server.should_exit
    server.run(sockets=[taken])


def _bound(listening: Listening) -> socket.socket:
    """Take the address.

    Raises:
        Unavailable: It is taken, or not of this machine.
    """
    family = socket.AF_INET6 if ":" in listening.host else socket.AF_INET
    taken = socket.socket(family)
    taken.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        taken.bind((listening.host, listening.port))
        taken.listen(WAITING)
    except OSError as error:
        taken.close()
        where = f"{listening.host}:{listening.port}"
        raise Unavailable(
            f"{where} cannot be used: {error.strerror}", record=where, hint="name another --port"
        ) from error
    return taken
