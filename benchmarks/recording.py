"""How long recording takes, beside sqlite3 by hand."""

from __future__ import annotations

import time
import uuid
from typing import TYPE_CHECKING

from benchmarks.raw import RawJournal
from benchmarks.works_of_size import events_of_size
from lotkin.core.reading import parse_event
from lotkin.uses.record import record
from lotkin.wiring import create_store, now_us

if TYPE_CHECKING:
    from pathlib import Path

    from lotkin.core.events import Event

__all__ = ["import_works", "record_events"]

SINGLE = 1_000
BATCH = 1_000
BATCHES = 5


def import_works(path: Path, units: int) -> tuple[str, int, float]:
    """Import a works of some size; give the words, the number of links, and the seconds."""
    store = create_store(str(path))
    events = list(events_of_size(units))
    links = sum(len(event.links) for event in events)
    start = time.perf_counter()
    record(store, events, now_us)
    seconds = time.perf_counter() - start
    return f"{units:,} units, {links:,} links", links, seconds


def _received(number: int) -> Event:
    return parse_event(
        {
            "kind": "receive",
            "id": str(uuid.UUID(int=number)),
            "at": "2026-01-05T08:00:00Z",
            "by": "bench",
            "code": f"LOT-{number}",
            "item_kind": "purchased-lot",
            "part": "PIN",
            "quantity": 1,
            "place": "STORE",
        },
        "bench",
    )


def record_events(folder: Path) -> list[tuple[str, ...]]:
    """Record received lots one by one and a thousand at a time, both ways.

    Returns:
        Rows for a table: what, events a second of lotkin and of sqlite3, ratio.
    """
    rows: list[tuple[str, ...]] = []
    store, raw = create_store(str(folder / "single.db")), RawJournal(folder / "raw.db")
    total = SINGLE + BATCH * BATCHES
    events = [_received(number) for number in range(1, total + 1)]
    data = "x" * 300
    start = time.perf_counter()
    for event in events[:SINGLE]:
        record(store, [event], now_us)
    ours = time.perf_counter() - start
    start = time.perf_counter()
    for number in range(SINGLE):
        raw.connection.execute("BEGIN IMMEDIATE")
        raw.write(number + 1, data)
        raw.connection.execute("COMMIT")
    bare = time.perf_counter() - start
    rows.append(_row("one event a transaction, durable", SINGLE, ours, bare))
    start = time.perf_counter()
    for first in range(SINGLE, total, BATCH):
        record(store, events[first : first + BATCH], now_us)
    ours = time.perf_counter() - start
    start = time.perf_counter()
    for first in range(SINGLE, total, BATCH):
        raw.connection.execute("BEGIN IMMEDIATE")
        for number in range(first, first + BATCH):
            raw.write(number + 1, data)
        raw.connection.execute("COMMIT")
    bare = time.perf_counter() - start
    rows.append(_row("a thousand events a transaction", BATCH * BATCHES, ours, bare))
    return rows


def _row(what: str, count: int, ours: float, bare: float) -> tuple[str, ...]:
    return what, f"{count / ours:,.0f}", f"{count / bare:,.0f}", f"{ours / bare:.1f}"
