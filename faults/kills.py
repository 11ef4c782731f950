"""Killing whoever records, at moments that nobody chose."""

from __future__ import annotations

import os
import random
import signal
import time
import uuid
from collections import Counter
from typing import TYPE_CHECKING

from faults.outcome import Outcome
from lotkin.core.events.reading import parse_event
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.evidence.verify import verify
from lotkin.uses.recording.record import record
from lotkin.wiring import create_store, open_store

if TYPE_CHECKING:
    from pathlib import Path

    from lotkin.core.events import Event

__all__ = ["kill_recorders"]

VERIFIED_EVERY = 50
LONGEST_S = 0.05


def event(name: str, number: int) -> Event:
    """Make an event: a lot received, or moved, split or counted after that."""
    lot = f"{name}-{number // 4}"
    steps: tuple[dict[str, object], ...] = (
        {"kind": "receive", "code": lot, "item_kind": "purchased-lot", "part": "SCREW",
         "quantity": 10, "place": "SHELF"},
        {"kind": "move", "item": lot, "quantity": 4, "place": "SHELF", "to_place": "FLOOR"},
        {"kind": "split", "item": lot, "place": "FLOOR",
         "parts": [{"code": f"{lot}-S", "quantity": 1}]},
        {"kind": "count", "item": lot, "place": "SHELF", "counted": 6},
    )  # fmt: skip
    envelope = {
        "id": str(uuid.uuid5(uuid.NAMESPACE_OID, f"{name} {number}")),
        "at": "2026-03-02T08:00:00Z",
        "by": "ANN",
    }
    return parse_event({**envelope, **steps[number % 4]}, f"event {number}")


def _record_until_killed(path: str, name: str, pipe: int) -> None:
    """Record one event a transaction and write its id when it is on the disk."""
    store = open_store(path)
    for number in range(100_000):
        (done,) = record(store, [event(name, number)], lambda: 0)
        os.write(pipe, f"{done.id}\n".encode())


def _killed(path: str, name: str, chance: random.Random) -> list[str]:
    """Let a process record, kill it, and give the ids that it acknowledged whole."""
    into, out = os.pipe()
    child = os.fork()
    if not child:
        os.close(into)
        try:
            _record_until_killed(path, name, out)
        finally:
            os._exit(1)
    os.close(out)
    with os.fdopen(into, "rb") as said:
        first = said.readline()
        time.sleep(chance.random() * LONGEST_S)
        os.kill(child, signal.SIGKILL)
        rest = said.read()
    os.waitpid(child, 0)
    lines = (first + rest).split(b"\n")[:-1]  # what was cut off was not acknowledged
    return [line.decode() for line in lines]


def kill_recorders(folder: Path, kills: int, seed: int = 20260302) -> Outcome:
    """Kill a recording process so many times with SIGKILL, and compare what it acknowledged.

    Each process is a fork that opens the store anew, as a command does; only the loading of the
    program is saved.
    """
    path = str(folder / "killed.db")
    create_store(path).close()
    chance = random.Random(seed)
    acknowledged: list[str] = []
    failures = unacknowledged = 0
    for kill in range(kills):
        acknowledged += _killed(path, f"K{kill}", chance)
        if kill % VERIFIED_EVERY and kill != kills - 1:
            continue
        store = open_store(path)
        with store.reading() as view:
            known = Counter(row.id for row in view.chain_rows())
        failures += sum(1 for one in acknowledged if one not in known)
        failures += sum(1 for count in known.values() if count > 1)
        failures += not verify(store).is_sound
        unacknowledged = len(known) - len(acknowledged)
        store.close()
    store = open_store(path)
    failures += bool(rebuild(store, check_only=True).difference)
    store.close()
    note = f"{len(acknowledged):,} events acknowledged, {unacknowledged} recorded but not yet said"
    return Outcome("kill -9 of a recording process", kills, 0, kills, failures, note)
