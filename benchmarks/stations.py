"""Twenty stations that scan at once, through the service over HTTP."""

from __future__ import annotations

import json
import subprocess
import sys
import threading
import time
import urllib.request
import uuid
from pathlib import Path
from statistics import median, quantiles
from typing import TYPE_CHECKING, Any

from lotkin.core.access.rights import RIGHTS_OF
from lotkin.uses.recording.load_plan import load_plan
from lotkin.wiring import create_store, now_us
from lotkin_service.settings import ServiceSettings
from lotkin_service.state import Works
from tests.scanning.station import BAR_LABEL, PLAN, ScannedWorks

if TYPE_CHECKING:
    from lotkin.store.store import Store

__all__ = ["scan_at_stations"]

STATIONS = 20
PAUSE_S = 0.5


def scan_at_stations(folder: Path, seconds: int) -> list[tuple[str, ...]]:
    """Let stations make the same step again and again; give scans, lots, errors and times."""
    db = str(folder / "stations.db")
    bars = _prepare(create_store(db))
    works = Works(ServiceSettings(db))
    token = works.sign_in.let_machine_in("stations", RIGHTS_OF["operator"], "bench")
    program = [str(Path(sys.executable).with_name("lotkin")), "serve", "--port", "0", "--db", db]
    with subprocess.Popen(
        [*program, "--log-level", "error", "--json"],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    ) as served:
        assert served.stdout is not None
        served.stdout.readline()
        address = served.stdout.readline().split('"')[3]
        talkers = [_Talker(address, token, bar, seconds) for bar in bars]
        for talker in talkers:
            talker.start()
        for talker in talkers:
            talker.join()
        served.terminate()
    times = sorted(taken for talker in talkers for taken in talker.times)
    recorded = sum(talker.recorded for talker in talkers)
    with works.store.reading() as view:
        made = sum(item.kind == "machined-lot" for item in view.all_items())
    works.close()
    assert made == recorded, f"{recorded} were said to be recorded, {made} are"
    errors = sum(talker.errors for talker in talkers)
    worst = quantiles(times, n=20)[-1]
    return [
        (f"{len(times):,}", f"{recorded:,}", str(errors), f"{median(times):.0f}", f"{worst:.0f}")
    ]


def _prepare(store: Store) -> list[str]:
    """Give a works with a bar for each station."""
    works = ScannedWorks(store=store)
    load_plan(store, PLAN.read_text(), PLAN.name, by="ida", clock=now_us)
    for number in range(STATIONS):
        label = BAR_LABEL.replace("H4711", f"H{number}").replace("Q30MR", "Q3000MR")
        works.done("STORE", label, "STORE", "")
    works.event("issue", traveller="T-9", part="STEM", quantity=10_000_000)
    bars = [code for code, item in works.items().items() if item.kind == "bar-lot"]
    store.close()
    return bars


class _Talker(threading.Thread):
    """A station that finishes the same step again and again."""

    def __init__(self, address: str, token: str, bar: str, seconds: int) -> None:
        super().__init__()
        self.url = f"{address}api/v1/stations/LATHE/scans"
        self.token, self.bar, self.seconds = token, bar, seconds
        self.device = str(uuid.uuid4())
        self.times: list[float] = []
        self.recorded = self.errors = 0

    def run(self) -> None:
        ends = time.monotonic() + self.seconds
        while time.monotonic() < ends:
            for text in ("T-9/10", self.bar, "LATHE-1", "1", "0.1", "5.98", "$CONFIRM"):
                began = time.perf_counter()
                reply = self.scan(text)
                self.times.append((time.perf_counter() - began) * 1000)
                self.errors += reply["tone"] == "refused"
                self.recorded += reply["tone"] == "done"
                time.sleep(PAUSE_S)

    def scan(self, text: str) -> Any:
        scans = [{"id": str(uuid.uuid4()), "text": text}]
        body = json.dumps({"device": self.device, "scans": scans}).encode()
        headers = {"Authorization": f"Bearer {self.token}", "Content-Type": "application/json"}
        request = urllib.request.Request(self.url, body, headers)
        with urllib.request.urlopen(request, timeout=60) as answer:
            return json.load(answer)["replies"][0]
