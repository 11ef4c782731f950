"""Watching the journal for what other programs are to be told."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from lotkin.uses.cases.letters import find_notices, send_due
from lotkin_service.webhooks.sending import Sender

if TYPE_CHECKING:
    from lotkin_service.state import Works

__all__ = ["Teller"]

LOOKS_EVERY_S = 2.0
SHARE = 10.0
"""Looking takes a tenth of the time at most, however large the open cases are."""


class Teller:
    """One round at a time: what is new is written down, what is due is sent."""

    def __init__(self, works: Works) -> None:
        hooks = {hook.name: hook for hook in works.settings.hooks}
        self._works = works
        self._names = list(hooks)
        self._wishes = {name: hook.kinds for name, hook in hooks.items()}
        self._sender = Sender(hooks, works.clock)
        self._seen = -1

    def round(self) -> float:
        """Go round once; gives the seconds to wait until the next round."""
        began = time.monotonic()
        with self._works.asked.reading() as view:
            head = view.journal_head()[0]
        if head != self._seen:
            find_notices(self._works.store, self._wishes, self._works.clock)
            self._seen = head
        took = time.monotonic() - began
        send_due(self._works.store, self._names, self._sender.send, self._works.clock)
        return max(LOOKS_EVERY_S, SHARE * took)

    def close(self) -> None:
        """Let go of connections."""
        self._sender.close()
