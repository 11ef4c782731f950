"""What holds for every test."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from hypothesis import HealthCheck, settings

from tests.times import lines_by_folder

if TYPE_CHECKING:
    import pytest

# A developer's own ledger must never be touched by a test.
os.environ.pop("LOTKIN_DB", None)

# Tests share the machine and run under coverage: how long one example takes says nothing.
settings.register_profile(
    "lotkin", deadline=None, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("lotkin")


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say where the time of the run went; with several workers, the time of all of them."""
    reports = [
        report
        for reports in terminalreporter.stats.values()
        for report in reports
        if hasattr(report, "duration") and hasattr(report, "nodeid")
    ]
    lines = lines_by_folder(reports)
    if lines and terminalreporter.verbosity > -2:
        terminalreporter.section("tests and seconds by folder")
        for line in lines:
            terminalreporter.write_line(line)
