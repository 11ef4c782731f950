"""What one scan at a station costs: transactions, statements, time."""

from __future__ import annotations

import time
import uuid
from statistics import median
from typing import TYPE_CHECKING

from lotkin.core.access.rights import Who, rights_of
from lotkin.uses.stations.served_station import SentScan, StationDesk
from lotkin.wiring import create_store, now_us, open_store
from tests.scanning.statements_told import Told, counting
from tests.scanning.station import BAR_LABEL, ScannedWorks

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from pathlib import Path

__all__ = ["measure_scans"]

IDA = Who("ida", "Ida Quell", rights_of(["receiving", "operator", "quality"]))
TIMES = 60
US_PER_MINUTE = 60_000_000


def measure_scans(folder: Path) -> list[tuple[str, ...]]:
    """Let one station make the same step again and again.

    Returns:
        What was scanned, write transactions, read transactions, statements, those that change
        rows, and milliseconds (median, least to most) of each.
    """
    path = str(folder / "a-scan.db")
    bar = _prepare(path)
    store = open_store(path)
    timed = _Timed()
    _work(StationDesk(store, "tablet 1", "LATHE", now_us), bar, range(TIMES), timed)
    store.close()
    with counting() as told:
        store = open_store(path)
        counted = _Counted(told)
        # the first one reads the plan, the second finds it read
        _work(
            StationDesk(store, "tablet 2", "LATHE", now_us), bar, range(TIMES, TIMES + 2), counted
        )
        store.close()
    return [(what, *counted.seen[what], timed.shown(what)) for what in timed.times]


def _prepare(path: str) -> str:
    """Give a works with a bar that is long enough."""
    works = ScannedWorks(store=create_store(path))
    label = BAR_LABEL.replace("Q30MR", "Q9000MR")
    works.done("STORE", label, "STORE", "")
    for number in range(TIMES + 2):
        works.event("issue", traveller=f"T-{100 + number}", part="STEM", quantity=100)
    bar = works.only("bar-lot")
    works.store.close()
    return bar


class _Timed:
    """Times what is scanned."""

    def __init__(self) -> None:
        self.times: dict[str, list[float]] = {}

    def take(self, what: str, run: Callable[[], object]) -> None:
        began = time.perf_counter()
        run()
        self.times.setdefault(what, []).append((time.perf_counter() - began) * 1000)

    def shown(self, what: str) -> str:
        times = self.times[what]
        return f"{median(times):.1f} ({min(times):.1f} to {max(times):.1f})"


class _Counted(_Timed):
    """Counts what the database is told; each kind of scan is told the same every time."""

    def __init__(self, told: Told) -> None:
        super().__init__()
        self.told = told
        self.seen: dict[str, tuple[str, ...]] = {}

    def take(self, what: str, run: Callable[[], object]) -> None:
        self.told.clear()
        run()
        begun = self.told.begun
        figures = (begun["write"], begun["read"], self.told.statements, self.told.changes)
        self.seen[what] = tuple(map(str, figures))


def _work(desk: StationDesk, bar: str, travellers: Iterable[int], seen: _Timed) -> None:
    for number in travellers:
        _scan(desk, seen, "a step, which begins work", f"T-{100 + number}/10")
        _scan(desk, seen, "a lot that goes in", bar)
        _scan(desk, seen, "a code that nobody knows", "NO-SUCH-LOT")
        for text in ("LATHE-1", "1", "0.1", "5.98"):
            _scan(desk, _Timed(), "", text)
        again = _scan(desk, seen, "CONFIRM, which records", "$CONFIRM")
        seen.take("the same sent again", lambda again=again: desk.take(again, IDA))  # type: ignore[misc]
        _scan(desk, seen, "a code that nobody knows, late", "NO-SUCH-LOT", US_PER_MINUTE)


def _scan(desk: StationDesk, seen: _Timed, what: str, text: str, age_us: int = 0) -> SentScan:
    scan = SentScan(str(uuid.uuid4()), text, age_us, by_hand=False)
    seen.take(what, lambda: desk.take(scan, IDA))
    return scan
