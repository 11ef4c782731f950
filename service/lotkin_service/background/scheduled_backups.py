"""Backups that the service makes by itself."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from lotkin.uses.evidence.back_up import back_up
from lotkin.wiring.backups import Backups, kept_in, named_after
from lotkin_service.door.logs import LOG

if TYPE_CHECKING:
    from lotkin_service.settings import BackupPlan
    from lotkin_service.state import Works

__all__ = ["ScheduledBackups"]

LOOKS_EVERY_S = 60.0
HOUR_S = 3600


class ScheduledBackups:
    """One look at a time: is a backup due, and if so it is made.

    When the last one was made is told by its file, so that neither a restart nor a second service
    makes one too many.
    """

    def __init__(self, works: Works, plan: BackupPlan) -> None:
        self._works, self._plan = works, plan
        self._backups = Backups(works.settings.db)

    def round(self) -> float:
        """Look once; gives the seconds to wait until the next look."""
        kept = kept_in(self._plan.folder)
        made_at = kept[-1].stat().st_mtime if kept else 0.0
        if time.time() - made_at < self._plan.every_h * HOUR_S:
            self._works.metrics.backed_up(made_at)
            return LOOKS_EVERY_S
        plan, clock = self._plan, self._works.clock
        path = named_after(plan.folder, clock(), encrypted=bool(plan.recipients))
        done = back_up(self._backups, path, clock, plan.recipients)
        self._works.metrics.backed_up(time.time())
        LOG.info("backed up", extra={"file": path.name, "events": done.events, "head": done.head})
        for one in done.lost:
            LOG.error("%s %s and is not in the backup", one.document.title, one.why)
        for old in kept_in(plan.folder)[: -plan.keep]:
            old.unlink(missing_ok=True)
        return LOOKS_EVERY_S
