"""Where the time of a run goes, folder by folder: which tests are worth making faster."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["Timed", "lines_by_folder", "seconds_by_folder"]


class Timed(Protocol):
    """A report on a step of a test: its setting up, the test, its clearing away."""

    nodeid: str
    duration: float


def seconds_by_folder(reports: Iterable[Timed]) -> dict[str, tuple[int, float]]:
    """Count tests and sum their seconds by the first two folders, the slowest first."""
    tests: dict[str, set[str]] = defaultdict(set)
    seconds: dict[str, float] = defaultdict(float)
    for report in reports:
        parts = report.nodeid.partition("::")[0].split("/")
        folder = "/".join(parts[:-1][:2]) or "."
        tests[folder].add(report.nodeid)
        seconds[folder] += report.duration
    return {
        folder: (len(tests[folder]), seconds[folder])
        for folder in sorted(seconds, key=lambda folder: (-seconds[folder], folder))
    }


def lines_by_folder(reports: Iterable[Timed]) -> list[str]:
    """Write the seconds by folder; nothing for a run in one folder."""
    found = seconds_by_folder(reports)
    if len(found) < 2:
        return []
    width = max(map(len, found))
    lines = [
        f"{name:<{width}} {count:6} {seconds:9.1f} s" for name, (count, seconds) in found.items()
    ]
    every = sum(count for count, _ in found.values())
    total = sum(seconds for _, seconds in found.values())
    return [*lines, f"{'all':<{width}} {every:6} {total:9.1f} s"]
