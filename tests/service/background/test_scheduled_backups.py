"""Backups that the service makes by itself: when due, not more, and the oldest go."""

from __future__ import annotations

import os
import time
from typing import TYPE_CHECKING

import pytest
from fastapi.testclient import TestClient

from lotkin.core.errors import BackupUnusable
from lotkin.uses.evidence.back_up import restore
from lotkin.wiring.backups import Backups, kept_in
from lotkin_service.app import make_app
from lotkin_service.background.scheduled_backups import ScheduledBackups
from lotkin_service.settings import BackupPlan, ServiceSettings
from lotkin_service.state import Works

if TYPE_CHECKING:
    from pathlib import Path

HOUR = 3600


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "backups"
    made.mkdir()
    return made


def test_a_running_service_makes_a_backup_that_restores(planned_db: str, folder: Path) -> None:
    app = make_app(ServiceSettings(planned_db, backups=BackupPlan(folder)))
    with TestClient(app):
        until = time.monotonic() + 30
        while not kept_in(folder) and time.monotonic() < until:
            time.sleep(0.02)
        time.sleep(0.1)
        figures = app.state.works.metrics.text(head=0)
    assert b"lotkin_last_backup_seconds 0.0" not in figures
    (made,) = kept_in(folder)
    assert restore(Backups(f"{folder}/r.db"), made).events == 1


def test_one_is_made_when_due_and_the_oldest_go(planned_db: str, folder: Path) -> None:
    works = Works(ServiceSettings(planned_db))
    now = time.time()
    for day in range(5, 0, -1):
        old = folder / f"lotkin-2026010{6 - day}T000000Z.backup"
        old.write_bytes(b"old")
        os.utime(old, (now - day * 24 * HOUR, now - day * 24 * HOUR))
    other = folder / "notes.txt"
    other.write_text("not ours")
    backups = ScheduledBackups(works, BackupPlan(folder, every_h=24, keep=3))

    backups.round()
    backups.round()

    names = [path.name for path in kept_in(folder)]
    assert names[:2] == ["lotkin-20260104T000000Z.backup", "lotkin-20260105T000000Z.backup"]
    assert len(names) == 3
    assert other.exists()
    works.close()


def test_a_folder_that_is_gone_is_told(planned_db: str, folder: Path) -> None:
    works = Works(ServiceSettings(planned_db))
    with pytest.raises(BackupUnusable):
        ScheduledBackups(works, BackupPlan(folder / "gone")).round()
    works.close()
