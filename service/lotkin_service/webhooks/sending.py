"""Sending a notice: signed, by HTTP POST, once."""

from __future__ import annotations

import base64
import hmac
from dataclasses import dataclass
from typing import TYPE_CHECKING

import httpx2

from lotkin_service.door.logs import LOG

if TYPE_CHECKING:
    from collections.abc import Mapping

    from lotkin.core.cases.letters import Attempt
    from lotkin.uses.ports import Clock
    from lotkin_service.webhooks.hook_file import Hook

__all__ = ["Arrival", "Sender", "signed_headers"]

PATIENCE_S = 10.0
SECOND = 1_000_000


@dataclass(frozen=True, slots=True)
class Arrival:
    """What became of a try."""

    arrived: bool
    answer: str


def signed_headers(secret: bytes, number: str, moment: int, body: str) -> dict[str, str]:
    """Give the headers by which a receiver knows who sent a body.

    Args:
        secret: Key shared with the receiver.
        number: Id of the notice; the same at each try.
        moment: Seconds since 1970-01-01 UTC.
        body: What is sent.

    Source: Standard Webhooks 1.0.0 (HMAC-SHA256, RFC 2104, over `id.timestamp.body`).
    """
    signed = f"{number}.{moment}.{body}".encode()
    signature = base64.b64encode(hmac.digest(secret, signed, "sha256")).decode()
    return {
        "webhook-id": number,
        "webhook-timestamp": str(moment),
        "webhook-signature": f"v1,{signature}",
    }


class Sender:
    """Sends notices to hooks."""

    def __init__(self, hooks: Mapping[str, Hook], clock: Clock) -> None:
        self._hooks, self._clock = hooks, clock
        self._client = httpx2.Client(timeout=PATIENCE_S, follow_redirects=False)

    def send(self, attempt: Attempt) -> Arrival:
        """Send a notice; any 2xx means that it arrived."""
        hook, notice = self._hooks[attempt.hook], attempt.notice
        headers = signed_headers(hook.secret, notice.id, self._clock() // SECOND, notice.body)
        headers |= {"content-type": "application/json", "user-agent": "lotkin"}
        try:
            answer = self._client.post(hook.url, content=notice.body.encode(), headers=headers)
            arrival = Arrival(answer.is_success, f"status {answer.status_code}")
        except httpx2.HTTPError as error:
            arrival = Arrival(False, type(error).__name__)
        LOG.log(
            20 if arrival.arrived else 30,
            "notice to %s: %s",
            attempt.hook,
            arrival.answer,
            extra={"notice": notice.id, "kind": notice.kind, "tries": attempt.tries + 1},
        )
        return arrival

    def close(self) -> None:
        """Let go of connections."""
        self._client.close()
