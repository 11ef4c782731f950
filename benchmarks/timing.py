"""Timing: medians of several runs, with their spread."""

from __future__ import annotations

import statistics
import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["Timing", "measure"]


@dataclass(frozen=True, slots=True)
class Timing:
    """Seconds of several runs."""

    seconds: tuple[float, ...]

    @property
    def median(self) -> float:
        """The median in seconds."""
        return statistics.median(self.seconds)

    @property
    def best(self) -> float:
        """The shortest run in seconds: what the work takes when nothing else is going on."""
        return min(self.seconds)


def measure(run: Callable[[], object], times: int = 7) -> Timing:
    """Run something several times, once more before to warm up."""
    run()
    seconds = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        seconds.append(time.perf_counter() - start)
    return Timing(tuple(seconds))
