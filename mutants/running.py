"""Running the tests on a copy of the project in which one line is broken."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from contextlib import contextmanager
from dataclasses import dataclass
from enum import StrEnum
from importlib.util import cache_from_source
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from mutants.table import Mutant

__all__ = ["Fate", "Outcome", "Tree", "copy_tree"]

SOURCES = ("trace", "answers", "cli", "labels", "service", "seed_data")
"""Folders that packages are imported from."""

LEFT_OUT = shutil.ignore_patterns(
    ".git", ".venv*", ".*_cache", ".hypothesis", "__pycache__", "build", "dist", "demo-works",
    "htmlcov",
)  # fmt: skip

PATIENCE_S = 600
"""How long the tests of one mutant may take; far more than they need."""

FAILED, PASSED = 1, 0
"""Exit statuses of pytest: some tests failed, all passed. All others say that nothing was tried."""


class Fate(StrEnum):
    """What became of a mutant."""

    KILLED = "killed"
    SURVIVED = "survived"
    NOT_TRIED = "not tried"


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the tests made of a mutant.

    Attributes:
        mutant: Which one.
        fate: Whether a test failed.
        by: Test that failed; what pytest said where none was tried; "" for a survivor.
    """

    mutant: Mutant
    fate: Fate
    by: str = ""


class Tree:
    """A copy of the project, to break and to mend."""

    def __init__(self, root: Path) -> None:
        self.root = root

    def test(self, tests: Sequence[str]) -> subprocess.CompletedProcess[str]:
        """Run some tests on the copy, up to the first that fails.

        Raises:
            subprocess.TimeoutExpired: They take longer than they may.
        """
        paths = [str(self.root / name) for name in SOURCES]
        environment = {**os.environ, "PYTHONPATH": os.pathsep.join([*paths, str(self.root)])}
        environment.pop("PYTEST_ADDOPTS", None)
        command = [
            sys.executable, "-m", "pytest", "-x", "-q", "-rfE", "--no-header", "--tb=no",
            "-p", "no:cacheprovider", "-p", "mutants.few_examples", "--hypothesis-seed=0", *tests,
        ]  # fmt: skip
        return subprocess.run(
            command,
            cwd=self.root,
            env=environment,
            capture_output=True,
            text=True,
            timeout=PATIENCE_S,
            check=False,
        )

    @contextmanager
    def broken_by(self, mutant: Mutant) -> Iterator[None]:
        """Let one line be another for a while.

        Raises:
            LineNotFoundError: It does not stand in its file exactly once.
        """
        path = self.root / mutant.file
        text = path.read_text("utf-8")
        mutated = mutant.applied_to(text)
        try:
            _write(path, mutated)
            yield
        finally:
            _write(path, text)

    def try_out(self, mutant: Mutant) -> Outcome:
        """Break a line, run the tests that must notice, and mend it."""
        with self.broken_by(mutant):
            try:
                done = self.test(mutant.tests)
            except subprocess.TimeoutExpired:
                return Outcome(mutant, Fate.NOT_TRIED, f"not ready after {PATIENCE_S} s")
        if done.returncode == PASSED:
            return Outcome(mutant, Fate.SURVIVED)
        failed = re.search(r"^FAILED (.+?)(?: - .*)?$", done.stdout, re.MULTILINE)
        if done.returncode == FAILED and failed is not None:
            return Outcome(mutant, Fate.KILLED, failed.group(1))
        said = (done.stdout + done.stderr).strip().splitlines()
        return Outcome(mutant, Fate.NOT_TRIED, said[-1] if said else "")


def copy_tree(source: Path, target: Path) -> Tree:
    """Copy the project, without what tools have left in it; the original is never touched."""
    shutil.copytree(source, target, ignore=LEFT_OUT)
    return Tree(target)


def _write(path: Path, text: str) -> None:
    path.write_text(text, "utf-8")
    # compiled code is told apart by second and length, and both may be the same
    Path(cache_from_source(str(path))).unlink(missing_ok=True)
