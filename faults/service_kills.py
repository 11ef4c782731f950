"""Killing the service under twenty machines, which send again what was not answered."""

from __future__ import annotations

import json
import random
import signal
import socket
import subprocess
import sys
import threading
import time
import urllib.error
import urllib.request
import uuid
from collections import Counter
from http.client import HTTPException
from typing import TYPE_CHECKING

from faults.outcome import Outcome
from lotkin.core.access.rights import RIGHTS_OF
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.evidence.verify import verify
from lotkin.wiring import create_store, open_store
from lotkin_service.settings import ServiceSettings
from lotkin_service.state import Works

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["kill_service"]

MACHINES = 20
SERVE = "from lotkin_cli.main import run; run()"


class Machine(threading.Thread):
    """Sends one event after the other; what was not answered is sent again under its id."""

    def __init__(self, address: str, token: str, name: str, stopping: threading.Event) -> None:
        super().__init__(daemon=True)
        self.address, self.token, self.machine = address, token, name
        self.stopping = stopping
        self.answered: list[str] = []
        self.refused = 0

    def run(self) -> None:
        number = 0
        while not self.stopping.is_set():
            number += 1
            event_id = str(uuid.uuid4())
            event = {
                "id": event_id, "at": "2026-03-02T08:00:00Z", "kind": "receive",
                "code": f"{self.machine}-{number}", "item_kind": "purchased-lot",
                "part": "SCREW", "quantity": 1, "place": "SHELF",
            }  # fmt: skip
            body = json.dumps({"events": [event]}).encode()
            self._send_until_answered(event_id, body)

    def _send_until_answered(self, event_id: str, body: bytes) -> None:
        while not self.stopping.is_set():
            request = urllib.request.Request(
                f"{self.address}/api/v1/events",
                body,
                {"authorization": f"Bearer {self.token}", "content-type": "application/json"},
            )
            try:
                with urllib.request.urlopen(request, timeout=10) as answer:
                    answer.read()
                self.answered.append(event_id)
                return
            except urllib.error.HTTPError as error:
                error.close()
                self.refused += error.code < 500
                if error.code < 500:
                    return
            except (OSError, ValueError, HTTPException):
                pass
            time.sleep(0.02)


def kill_service(folder: Path, kills: int, seed: int = 5) -> Outcome:
    """Kill the service so many times, start it again at once, and compare what it answered."""
    path = str(folder / "served.db")
    create_store(path).close()
    works = Works(ServiceSettings(path))
    rights = RIGHTS_OF["receiving"]
    token = works.sign_in.let_machine_in("machines", rights, "faults")
    works.close()
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    stopping, chance = threading.Event(), random.Random(seed)
    machines = [
        Machine(f"http://127.0.0.1:{port}", token, f"M{n}", stopping) for n in range(MACHINES)
    ]
    service = _start(path, port)
    for machine in machines:
        machine.start()
    for _ in range(kills):
        time.sleep(0.5 + chance.random())
        service.send_signal(signal.SIGKILL)
        service.wait()
        service = _start(path, port)
    time.sleep(1)
    stopping.set()
    for machine in machines:
        machine.join(20)
    service.terminate()
    service.wait()
    return _compared(path, machines, kills)


def _start(path: str, port: int) -> subprocess.Popen[bytes]:
    words = ["lotkin", "serve", "--db", path, "--port", str(port), "--log-level", "error"]
    service = subprocess.Popen(
        [sys.executable, "-c", f"import sys; sys.argv = {words!r}; {SERVE}"],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    until = time.monotonic() + 60
    while time.monotonic() < until:
        try:
            urllib.request.urlopen(f"http://127.0.0.1:{port}/health", timeout=5).close()
            return service
        except OSError:
            time.sleep(0.05)
    raise RuntimeError("the service does not start")


def _compared(path: str, machines: list[Machine], kills: int) -> Outcome:
    store = open_store(path)
    with store.reading() as view:
        known = Counter(row.id for row in view.chain_rows())
    answered = [one for machine in machines for one in machine.answered]
    failures = sum(1 for one in answered if one not in known) + (not answered)
    failures += sum(1 for count in known.values() if count > 1)
    failures += sum(machine.refused for machine in machines)
    failures += not verify(store).is_sound
    failures += bool(rebuild(store, check_only=True).difference)
    store.close()
    note = f"{len(answered):,} events answered to {len(machines)} machines"
    return Outcome("kill -9 of the service under load", kills, 0, kills, failures, note)
