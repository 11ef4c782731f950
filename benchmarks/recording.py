"""How long recording takes, beside sqlite3 by hand."""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
import uuid
from typing import TYPE_CHECKING

from benchmarks.raw import SameRows
from benchmarks.works_of_size import events_of_size
from lotkin.core.events.reading import parse_event
from lotkin.uses.exchange.export_tables import export_tables
from lotkin.uses.recording.record import record
from lotkin.wiring import create_store, now_us, open_store

if TYPE_CHECKING:
    from pathlib import Path

    from lotkin.core.events import Event

__all__ = ["import_tables_of_lots", "import_tables_of_works", "import_works", "record_events"]

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
    store = create_store(str(folder / "events.db"))
    total = SINGLE + BATCH * BATCHES
    events = [_received(number) for number in range(1, total + 1)]
    single, batches = [], []
    for event in events[:SINGLE]:
        start = time.perf_counter()
        record(store, [event], now_us)
        single.append(time.perf_counter() - start)
    for first in range(SINGLE, total, BATCH):
        start = time.perf_counter()
        record(store, events[first : first + BATCH], now_us)
        batches.append(time.perf_counter() - start)
    store.close()
    raw = SameRows(folder / "events.db", folder / "raw.db")
    raw_single, raw_batches = [], []
    for seq in range(1, SINGLE + 1):
        start = time.perf_counter()
        raw.write(seq, seq)
        raw_single.append(time.perf_counter() - start)
    for first in range(SINGLE, total, BATCH):
        start = time.perf_counter()
        raw.write(first + 1, first + BATCH)
        raw_batches.append(time.perf_counter() - start)
    return [
        _row("one event a transaction, durable", 1, single, raw_single),
        _row("a thousand events a transaction", BATCH, batches, raw_batches),
    ]


def _row(what: str, count: int, ours: list[float], raw: list[float]) -> tuple[str, ...]:
    mine, bare = statistics.median(ours), statistics.median(raw)
    return what, _rate(count, ours), _rate(count, raw), f"{mine / bare:.1f}"


def _rate(count: int, seconds: list[float]) -> str:
    """Write events a second: the median, and nine tenths of all runs."""
    in_order = sorted(seconds)
    tail = len(in_order) // 20
    low, high = in_order[-1 - tail], in_order[tail]
    middle = statistics.median(in_order)
    return f"{count / middle:,.0f} ({count / low:,.0f} to {count / high:,.0f})"


def import_tables_of_lots(folder: Path, units: int) -> tuple[str, ...]:
    """Import units that are linked to ten lots each from two tables.

    Returns:
        As `_import_both`.
    """
    items, links = folder / "items.csv", folder / "links.csv"
    lots = units // 10
    with items.open("w") as file:
        file.write("code,kind,part,quantity,unit,made_at\n")
        file.writelines(f"LOT-{n},machined-lot,PLATE,120,pcs,2024-01-01\n" for n in range(lots))
        file.writelines(f"UNIT-{n},unit,UNIT,1,pcs,2024-02-01\n" for n in range(units))
    with links.open("w") as file:
        file.write("parent,child,quantity,group,mixing,per\n")
        for n in range(units):
            file.writelines(f"LOT-{(n // 100 * 10 + k) % lots},UNIT-{n},,,,\n" for k in range(10))
    return "ten lots a unit", *_import_both(items, links, folder / f"tables-{units}.db")


def import_tables_of_works(folder: Path, path: Path) -> tuple[str, ...]:
    """Import the tables that a works is exported to: nearly as many items as links.

    Returns:
        As `_import_both`.
    """
    items, links = folder / "works-items.csv", folder / "works-links.csv"
    with open_store(str(path)).reading() as view:
        export_tables(view, items, links)
    return "a works with bench setups", *_import_both(items, links, folder / "works-again.db")


def _import_both(items: Path, links: Path, path: Path) -> tuple[str, ...]:
    """Import two tables in a process of its own.

    Returns:
        Items, links, seconds, rows and links a second, seconds for the copy of the graph, most MB
        in memory.
    """
    create_store(str(path)).close()
    said = subprocess.run(
        [sys.executable, "-c", IMPORT, str(items), str(links), str(path)],
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    count, linked, seconds, copied, memory = map(float, said.split())
    return (
        f"{count:,.0f}",
        f"{linked:,.0f}",
        f"{seconds:.1f}",
        f"{(count + linked) / seconds:,.0f}",
        f"{linked / seconds:,.0f}",
        f"{copied:.1f}",
        f"{memory:,.0f}",
    )


IMPORT = """
import datetime, pathlib, sys, time
from lotkin.uses.exchange.import_tables import import_tables
from lotkin.wiring import now_us, open_store
items, links, path = map(pathlib.Path, sys.argv[1:])
store, at = open_store(str(path)), datetime.datetime.now(datetime.UTC)
began = time.perf_counter()
report = import_tables(store, items, links, by="bench", at=at, dry_run=False, clock=now_us)
done = time.perf_counter()
store.copy_graph()
copied = time.perf_counter()
(memory,) = [int(line.split()[1]) / 1024 for line in open("/proc/self/status") if "VmHWM" in line]
print(report.items, report.links, done - began, copied - done, memory)
"""
"""What `lotkin import` does once it is loaded."""
