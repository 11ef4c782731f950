"""A works of a million units: every way of finding all that is affected, side by side."""

from __future__ import annotations

import json
import math
import subprocess
import sys
import time
from functools import partial
from typing import TYPE_CHECKING, Any

import igraph
import networkx as nx
import numpy as np
import rustworkx as rx
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import breadth_first_order

from benchmarks.plain_exposure import Found, expose_by_dicts
from benchmarks.raw import open_raw, reached_ids
from benchmarks.timing import Timing, measure
from lotkin.core.exposure.exposure import expose
from lotkin.core.exposure.reach import Reach
from lotkin.core.values.gc_paused import paused_collector
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.where import where_used
from lotkin.wiring import open_store

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from lotkin.store.store import Store

__all__ = [
    "cold_rows",
    "exposure_rows",
    "scale_rows",
    "set_rows",
    "small_rows",
    "verb_rows",
    "whole_rows",
]

COLD = """
import sys, time
began = time.perf_counter()
{how}
seconds = time.perf_counter() - began
(memory,) = [int(line.split()[1]) / 1024 for line in open("/proc/self/status") if "VmHWM" in line]
print(seconds, memory)
"""

OURS = """
from lotkin.wiring import open_store
found = sum(map(len, open_store({path!r}).numbers_below({code!r}))) - 1
"""

NETWORKX = """
import sqlite3, networkx
graph = networkx.DiGraph(sqlite3.connect({path!r}).execute("SELECT parent, child FROM link"))
number = sqlite3.connect({path!r}).execute("SELECT id FROM item WHERE code = {code!r}").fetchone()
found = len(networkx.descendants(graph, number[0]))
"""


def _ms(timing: Timing) -> str:
    low, high = min(timing.seconds), max(timing.seconds)
    return f"{timing.median * 1000:,.1f} ({low * 1000:,.1f} to {high * 1000:,.1f})"


class Loaded:
    """The same graph in the memory of every library."""

    def __init__(self, path: Path) -> None:
        raw = open_raw(path)
        links = np.array(raw.execute("SELECT parent, child FROM link").fetchall(), np.int32)
        size = int(links.max()) + 1
        self.nx = nx.DiGraph(links.tolist())
        self.rx = rx.PyDiGraph()
        self.rx.add_nodes_from(range(size))
        self.rx.add_edges_from_no_data(list(map(tuple, links.tolist())))
        self.ig = igraph.Graph(n=size, edges=links, directed=True)
        ones = np.ones(len(links))
        self.csr = csr_matrix((ones, (links[:, 0], links[:, 1])), shape=(size, size))
        self.raw = raw

    def compiled(self, number: int) -> int:
        """Search in compiled code over arrays in memory: the limit."""
        return len(breadth_first_order(self.csr, number, return_predecessors=False)) - 1


def scale_rows(path: Path, codes: dict[str, str]) -> list[tuple[str, ...]]:
    """Ask for all that is affected, numbers only, in every way.

    Args:
        path: A store with a copy of its graph.
        codes: Name of a question -> code of the item asked about.

    Returns:
        Rows: question, reached, then milliseconds: median and spread.
    """
    store, loaded = open_store(str(path)), Loaded(path)
    rows = []
    for name, code in codes.items():
        with store.reading() as view:
            number = view.number(code)
        ways: list[Callable[[], object]] = [
            partial(_numbers, store, code),
            partial(loaded.compiled, number),
            partial(igraph.Graph.subcomponent, loaded.ig, number, mode="out"),
            partial(rx.descendants, loaded.rx, number),
            partial(nx.descendants, loaded.nx, number),
            partial(reached_ids, loaded.raw, code),
        ]
        timings = [measure(way, times=5) for way in ways]
        count = loaded.compiled(number)
        assert _numbers(store, code) == count == len(nx.descendants(loaded.nx, number))
        ours = timings[0].median
        rows.append(
            (
                name,
                f"{count:,}",
                *map(_ms, timings),
                f"{ours / timings[1].median:.1f}",
                f"{timings[-1].median / ours:.0f}",
            )
        )
    return rows


def _numbers(store: Store, code: str) -> int:
    """Give how many items are reached, through the copy of the graph."""
    return len(np.concatenate([np.asarray(part) for part in _stretches(store, code)])) - 1


def _stretches(store: Store, code: str) -> list[Sequence[int]]:
    below = store.numbers_below(code)
    assert below is not None
    return below


def cold_rows(path: Path, code: str) -> list[tuple[str, ...]]:
    """Ask in a process of its own, which has loaded nothing yet."""
    rows = []
    medians = []
    for name, how, times in (("lotkin, with the copy", OURS, 5), ("networkx", NETWORKX, 2)):
        script = COLD.format(how=how.format(path=str(path), code=code))
        asked, whole, memory = [], [], []
        for _ in range(times):
            began = time.perf_counter()
            out = subprocess.run(
                [sys.executable, "-c", script], capture_output=True, text=True, check=True
            ).stdout
            whole.append(time.perf_counter() - began)
            asked.append(float(out.split()[0]))
            memory.append(float(out.split()[1]))
        timing, process = Timing(tuple(asked)), Timing(tuple(whole))
        medians.append(timing.median)
        rows.append((name, _ms(timing), _ms(process), f"{max(memory):,.0f}"))
    rows.append(("times as fast", f"{medians[1] / medians[0]:.0f}", "", ""))
    return rows


def set_rows(path: Path, one: str, other: str) -> list[tuple[str, ...]]:
    """Compare the affected units of two cases."""
    store, loaded = open_store(str(path)), Loaded(path)
    with store.reading() as view:
        numbers = [view.number(code) for code in (one, other)]
        size = view.highest_number() + 1

    def ours() -> list[int]:
        flags = []
        for code in (one, other):
            found = np.zeros(size, bool)
            for stretch in _stretches(store, code):
                found[np.asarray(stretch)] = True
            flags.append(found)
        a, b = flags
        return [int(np.count_nonzero(each)) for each in (a | b, a & b, a & ~b)]

    def theirs() -> list[int]:
        a, b = ({n, *nx.descendants(loaded.nx, n)} for n in numbers)
        return [len(a | b), len(a & b), len(a - b)]

    assert ours() == theirs()
    mine, other_way = measure(ours, times=5), measure(theirs, times=3)
    return [
        ("lotkin, with the copy", _ms(mine)),
        ("networkx, loaded", _ms(other_way)),
        ("times as fast", f"{other_way.median / mine.median:.1f}"),
    ]


def exposure_rows(path: Path, code: str) -> list[tuple[str, ...]]:
    """Compute how surely and how much everything reached contains an item."""
    store = open_store(str(path))

    def gathered() -> Reach:
        with store.reading() as view:
            return view.reach([code], "down")

    reach = gathered()

    def fresh() -> Reach:
        return Reach(reach.nodes, reach.links, reach.starts, reach.arrays)

    ours = measure(lambda: expose(fresh(), reach.starts).items, times=5)

    def by_dicts() -> dict[int, Found]:
        with paused_collector():
            return expose_by_dicts(reach)

    found = expose(fresh(), reach.starts)
    for i, other in by_dicts().items():
        assert found[i].certain == other.certain
        assert math.isclose(found[i].content or 0.0, other.content, abs_tol=1e-9)
    loop = measure(by_dicts, times=3)
    gathering = measure(gathered, times=3)
    return [
        ("gathering items and links", f"{len(reach):,}", _ms(gathering)),
        ("exposure: certainty, chance, bounds, content", f"{len(reach):,}", _ms(ours)),
        ("the same by a loop over dicts", f"{len(reach):,}", _ms(loop)),
        ("times as fast", "", f"{loop.median / ours.median:.1f}"),
    ]


def whole_rows(path: Path, codes: dict[str, str]) -> list[tuple[str, ...]]:
    """Ask as the command does, every row looked at."""
    store = open_store(str(path))
    rows = []
    for name, code in codes.items():
        used = measure(lambda code=code: sum(1 for _ in where_used(store, code).items), times=2)
        held = measure(lambda code=code: contain(store, [code]).units, times=2)
        rows.append((name, f"{contain(store, [code]).units:,}", _ms(used), _ms(held)))
    return rows


def verb_rows(path: Path, codes: dict[str, str]) -> list[tuple[str, ...]]:
    """Ask by the command as a user does, and wait for its last line."""
    rows = []
    for name, code in codes.items():
        timings = [
            measure(partial(_run, verb, code, "--json", "--db", str(path)), times=3)
            for verb in ("where-used", "contain")
        ]
        count = len(json.loads(_run("where-used", code, "--json", "--db", str(path)))["items"])
        rows.append((name, f"{count:,}", *map(_ms, timings)))
    return rows


def _run(*words: str) -> bytes:
    """Run the command in a process of its own; gives what it printed."""
    command = [sys.executable, "-c", "from lotkin_cli.main import run; run()", *words]
    return subprocess.run(command, capture_output=True, check=True).stdout


def small_rows(path: Path, code: str) -> list[tuple[str, ...]]:
    """Ask a small question by the command, whole process, beside `--version`."""
    lotkin = str(sys.executable).replace("python", "lotkin")

    def run(*words: str) -> Any:
        return subprocess.run([lotkin, *words], capture_output=True, check=True).stdout

    version = measure(lambda: run("--version"), times=15)
    asked = measure(lambda: run("where-used", code, "--json", "--db", str(path)), times=15)
    count = len(json.loads(run("where-used", code, "--json", "--db", str(path)))["items"])
    return [
        ("lotkin --version", "", _ms(version)),
        ("lotkin where-used", f"{count:,}", _ms(asked)),
        ("ratio", "", f"{asked.median / version.median:.2f}"),
    ]
