"""The works as the service has it in hand: store, documents, clock, plan."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING, Annotated

from fastapi import Depends, Request

from lotkin.uses.access.sign_in import SignIn
from lotkin.uses.recording.load_plan import current_plan
from lotkin.wiring import now_us, open_documents, open_store
from lotkin.wiring.secrets_hashed import AT_ONCE, Argon2Hashes
from lotkin_service.access.tries import Tries
from lotkin_service.background.findings import Findings
from lotkin_service.door.metrics import Metrics
from lotkin_service.stations import Stations

if TYPE_CHECKING:
    from collections.abc import Callable

    from lotkin.core.plan import ShopPlan
    from lotkin_service.settings import ServiceSettings

__all__ = ["TheWorks", "Works"]


class Works:
    """Store, documents and clock; one for the whole service.

    Attributes:
        settings: What the service was started with.
        stops_when: Tells whether it is about to stop, so that whoever listens is let go.
        metrics: Figures of what was answered.
        store: Where events are recorded.
        asked: Where questions go; the same store unless a replica is named.
        documents: Certificates.
        clock: Microseconds UTC.
        stations: The desks of those who scan.
        sign_in: Who may come in.
        tries: Sign-ins that failed.
        findings: What the last audit found.
        proving: Where secrets are looked at, so that those who wait hold up nobody else.
    """

    def __init__(self, settings: ServiceSettings) -> None:
        self.settings = settings
        self.stops_when: Callable[[], bool] = lambda: False
        self.metrics = Metrics()
        self.store = open_store(settings.db)
        self.asked = open_store(settings.read_db) if settings.read_db else self.store
        self.documents = open_documents(settings.db)
        self.clock = now_us
        self.stations = Stations(self.store, self.plan, self.now)
        self.sign_in = SignIn(self.store, Argon2Hashes(), self.plan, self.clock)
        self.tries = Tries()
        self.findings = Findings(self.asked, self.documents, self.now)
        self.proving = ThreadPoolExecutor(AT_ONCE, "proving")

    def now(self) -> int:
        """Tell the time by the clock of the works."""
        return self.clock()

    def plan(self) -> ShopPlan | None:
        """Give the plan in force; None before one is loaded."""
        return current_plan(self.store)[1]

    def close(self) -> None:
        """Let go of the stores."""
        self.stops_when = lambda: True
        self.proving.shutdown(cancel_futures=True)
        if self.asked is not self.store:
            self.asked.close()
        self.store.close()


def _works(request: Request) -> Works:
    found: Works = request.app.state.works
    return found


TheWorks = Annotated[Works, Depends(_works)]
"""Parameter of a route: the works."""
