"""The folder trace/ must never hide the standard library's module of that name."""

from __future__ import annotations

import subprocess
import sys

from tests.layout.source_tree import ROOT


def test_import_trace_in_the_repository_root_is_the_standard_librarys() -> None:
    # Fails as soon as somebody adds trace/__init__.py.
    program = "import trace; print(trace.Trace.__module__, trace.__file__)"

    answer = subprocess.run(
        [sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=False
    )

    assert answer.returncode == 0, answer.stderr
    assert str(ROOT / "trace") not in answer.stdout


def test_no_source_root_is_a_package_itself() -> None:
    roots = ["trace", "cli", "labels", "service", "seed_data"]

    assert [root for root in roots if (ROOT / root / "__init__.py").exists()] == []
