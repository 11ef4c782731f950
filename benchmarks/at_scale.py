"""The page of measurements at a million units."""

from __future__ import annotations

import time
from functools import partial
from typing import TYPE_CHECKING

from benchmarks.scale import (
    cold_rows,
    exposure_rows,
    scale_rows,
    set_rows,
    small_rows,
    verb_rows,
    whole_rows,
)
from benchmarks.timing import measure
from benchmarks.works_of_size import events_of_size
from lotkin.uses.recording.record import record
from lotkin.wiring import create_store, now_us, open_store

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["measure_at_scale"]


def make(path: Path, units: int) -> tuple[float, float]:
    """Make a works of some units with a copy of its graph; gives the seconds of both."""
    store = create_store(str(path))
    began = time.perf_counter()
    record(store, events_of_size(units), now_us)
    recorded = time.perf_counter()
    store.copy_graph()
    copied = time.perf_counter()
    store.close()
    return recorded - began, copied - recorded


def measure_at_scale(folder: Path, units: int) -> dict[str, object]:
    """Measure on a works of some units, and on one a tenth of it."""
    path, tenth = folder / "large.db", folder / "tenth.db"
    seconds, copying = make(path, units)
    make(tenth, units // 10)
    codes = {
        "a machined lot (small)": f"LOT-{units // 200 * 100}",
        "a heat (medium)": "HEAT-0",
        "the first powder (huge, deep)": "VIRGIN-0",
    }
    deep = _cost_an_item(path, "BLEND-0")
    shallow = _cost_an_item(path, "HEAT-0")
    return {
        "seconds": seconds,
        "copying": copying,
        "bytes": path.stat().st_size / units,
        "copy_bytes": path.with_name("large.db.graph").stat().st_size / units,
        "ids": scale_rows(path, codes),
        "cold": cold_rows(path, "VIRGIN-0"),
        "sets": set_rows(path, "VIRGIN-0", f"VIRGIN-{units // 2}"),
        "exposure": exposure_rows(path, f"VIRGIN-{units // 2}"),
        "whole": whole_rows(path, codes),
        "verb": verb_rows(path, codes),
        "small": small_rows(path, codes["a machined lot (small)"]),
        "ten": _ratio(path, tenth),
        "deep": deep / shallow,
    }


def _asked(path: Path, code: str) -> tuple[float, int]:
    store = open_store(str(path))
    below = store.numbers_below(code)
    assert below is not None
    return measure(partial(store.numbers_below, code), times=7).median, sum(map(len, below))


def _ratio(large: Path, small: Path) -> float:
    return _asked(large, "VIRGIN-0")[0] / _asked(small, "VIRGIN-0")[0]


def _cost_an_item(path: Path, code: str) -> float:
    seconds, count = _asked(path, code)
    return seconds / count
