"""Work that goes on beside the answering: done again and again until the service stops."""

from __future__ import annotations

from threading import Event, Thread
from typing import TYPE_CHECKING

from lotkin.core.errors import LotkinError
from lotkin.uses.evidence.graph_snapshot import copy_graph
from lotkin.uses.evidence.seal import seal
from lotkin_service.background.scheduled_backups import ScheduledBackups
from lotkin_service.door.logs import LOG
from lotkin_service.webhooks.teller import Teller

if TYPE_CHECKING:
    from collections.abc import Callable

    from lotkin_service.state import Works

__all__ = ["Repeated", "beside"]

AFTER_TROUBLE_S = 30.0
GRAPH_EVERY_S = 120.0


class Repeated:
    """A job in a thread of its own; trouble is logged and the job is tried again."""

    def __init__(self, name: str, job: Callable[[], float]) -> None:
        """Name a job; it gives the seconds to wait until it is done again."""
        self._name, self._job = name, job
        self._stopping, self._woken = Event(), Event()
        self._thread = Thread(target=self._run, name=name, daemon=True)

    def start(self) -> None:
        """Begin."""
        self._thread.start()

    def stop(self, patience_s: float = 10.0) -> None:
        """Let the job end what it is about, and no more."""
        self._stopping.set()
        self._woken.set()
        if self._thread.is_alive():
            self._thread.join(patience_s)

    def hurry(self) -> None:
        """Do the job now, or once more if it is being done."""
        self._woken.set()

    def _run(self) -> None:
        while True:
            self._woken.clear()
            if self._stopping.is_set():
                return
            self._woken.wait(self._once())

    def _once(self) -> float:
        try:
            return self._job()
        except LotkinError as error:
            LOG.error("%s: %s", self._name, error.message)
        except Exception:  # noqa: BLE001 - what it does next time must not hang on this
            LOG.exception("%s failed", self._name)
        return AFTER_TROUBLE_S


def beside(works: Works) -> list[Repeated]:
    """Give the jobs that a service has, as it was started."""

    def copy() -> float:
        copy_graph(works.store, only_if_due=True)
        return GRAPH_EVERY_S

    finding = Repeated("looking for gaps", works.findings.round)
    works.findings.hurry = finding.hurry
    jobs = [Repeated("copying the graph", copy), finding]
    if works.settings.hooks:
        jobs.append(Repeated("telling", Teller(works).round))
    if works.settings.backups is not None:
        backups = ScheduledBackups(works, works.settings.backups)
        jobs.append(Repeated("backing up", backups.round))
    signer = works.settings.signer
    if signer is not None:

        def sealing() -> float:
            seal(works.store, signer, "service", works.clock)
            return works.settings.seal_every_h * 3600

        jobs.append(Repeated("sealing", sealing))
    return jobs
