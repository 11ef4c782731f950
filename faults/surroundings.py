"""A machine that fails around the store: no room, no right to write, somebody in the way."""

from __future__ import annotations

import os
import random
import resource
import signal
import sqlite3
from contextlib import closing
from functools import partial
from typing import TYPE_CHECKING

from faults.kills import event
from faults.outcome import Outcome
from lotkin.core.errors import LotkinError
from lotkin.store.connection import sqlite_settings
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.evidence.verify import verify
from lotkin.uses.recording.record import record
from lotkin.wiring import create_store, open_store

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from lotkin.store.store import Store

__all__ = ["clock_set_back", "disk_full", "locked", "read_only"]

NOBODY = 65534
TOLD, RECORDED, WRONG = 0, 1, 2


def _in_a_process(work: Callable[[], int]) -> int:
    """Do something in a process of its own; gives what it said, `WRONG` if it failed otherwise."""
    child = os.fork()
    if not child:
        said = WRONG
        try:
            said = work()
        finally:
            os._exit(said)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def _try(store_path: str, name: str, count: int) -> int:
    """Record until something is told."""
    try:
        store = open_store(store_path)
        for number in range(count):
            record(store, [event(name, number)], lambda: 0)
    except LotkinError:
        return TOLD
    return RECORDED


def _is_sound(path: str) -> bool:
    store = open_store(path)
    try:
        return verify(store).is_sound and not rebuild(store, check_only=True).difference
    finally:
        store.close()


def disk_full(folder: Path, times: int, seed: int = 4) -> Outcome:
    """Let the files grow no further than a limit that is drawn anew each time.

    The limit is that of the process (RLIMIT_FSIZE): to SQLite it is a write that fails.
    """
    path = str(folder / "full.db")
    create_store(path).close()
    chance = random.Random(seed)
    noticed = failures = 0
    for number in range(times):
        size = os.stat(path).st_size  # noqa: PTH116
        limit = size + chance.randrange(1, 200_000)

        def limited(limit: int = limit, number: int = number) -> int:
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
            return _try(path, f"F{number}", 3_000)

        said = _in_a_process(limited)
        noticed += said == TOLD
        failures += said != TOLD or not _is_sound(path)
    return Outcome("no room on the disk while recording", times, noticed, 0, failures)


def read_only(folder: Path, times: int) -> Outcome:
    """Let somebody record who may only read."""
    place = folder / "readonly"
    place.mkdir(exist_ok=True)
    path = str(place / "works.db")
    create_store(path).close()
    for file in place.iterdir():
        file.chmod(0o444)
    place.chmod(0o555)
    _open_way_to(place)

    def as_nobody() -> int:
        if os.geteuid() == 0:
            os.setgid(NOBODY)
            os.setuid(NOBODY)
        return _try(path, "R", 1)

    said = [_in_a_process(as_nobody) for _ in range(times)]
    place.chmod(0o755)
    for file in place.iterdir():
        file.chmod(0o644)
    failures = sum(one != TOLD for one in said) + (not _is_sound(path))
    return Outcome("a store that may only be read", times, said.count(TOLD), 0, failures)


def _open_way_to(place: Path) -> None:
    """Let others pass through the folders above."""
    for folder in place.parents:
        if os.geteuid() == 0 and folder.stat().st_mode & 0o001 == 0:
            folder.chmod(folder.stat().st_mode | 0o011)


def locked(folder: Path, times: int) -> Outcome:
    """Let another program hold the store for longer than anybody waits."""
    path = str(folder / "locked.db")
    create_store(path).close()
    waits = sqlite_settings.BUSY_MS
    sqlite_settings.BUSY_MS = 50
    noticed = failures = 0
    try:
        for number in range(times):
            again = partial(_try, path, f"L{number}", 1)
            with closing(sqlite3.connect(path, isolation_level=None)) as other:
                other.execute("BEGIN IMMEDIATE")
                said = _in_a_process(again)
                other.execute("ROLLBACK")
            noticed += said == TOLD
            failures += said != TOLD
            failures += _in_a_process(again) != RECORDED
    finally:
        sqlite_settings.BUSY_MS = waits
    failures += not _is_sound(path)
    return Outcome("a store that another program holds", times, noticed, 0, failures)


def clock_set_back(folder: Path, times: int) -> Outcome:
    """Record while the clock of the machine goes back each time."""
    path = str(folder / "clock.db")
    store: Store = create_store(path)
    now = 1_800_000_000_000_000
    for number in range(times):
        now -= 3_600_000_000
        record(store, [event("C", number)], lambda now=now: now)
    store.close()
    note = "order is that of the journal, not of the clock"
    return Outcome("the clock set back", times, 0, times, int(not _is_sound(path)), note)
