"""Answers are words, rows and documents: the same wherever and whenever they are made."""

from __future__ import annotations

import ast

import pytest

from tests.layout.source_tree import product_packages

ASIDE = {
    "locale", "logging", "os", "pathlib", "random", "secrets", "shutil", "socket",
    "sqlite3", "subprocess", "sys", "tempfile", "time",
}  # fmt: skip
"""What tells the time, or reads files, settings or the network."""

CLOCKS = {"now", "today", "utcnow"}


def what_is_read(text: str) -> list[str]:
    """List what a module imports or calls that is not in its arguments."""
    found = []
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names if alias.name.split(".")[0] in ASIDE]
        elif isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] in ASIDE:
            found.append(node.module or "")
        elif isinstance(node, ast.Attribute) and node.attr in CLOCKS:
            found.append(node.attr)
        elif isinstance(node, ast.Call) and getattr(node.func, "id", "") in {"open", "input"}:
            found.append("open")
    return found


def test_answers_read_no_clock_no_file_and_no_setting() -> None:
    top = product_packages()["lotkin_answers"]
    read = {
        path.relative_to(top).as_posix(): what_is_read(path.read_text("utf-8"))
        for path in sorted(top.rglob("*.py"))
    }
    assert {name: names for name, names in read.items() if names} == {}
    assert "words.py" in read


@pytest.mark.parametrize(
    "text",
    [
        "from datetime import UTC, datetime\nmade_at = datetime.now(UTC)",
        "import datetime\nday = datetime.date.today()",
        "from pathlib import Path",
        "def answer():\n    import os\n    return os.environ['LOTKIN_DB']",
        "import time",
        "text = open('notes.txt').read()",
    ],
)
def test_a_clock_a_file_and_a_setting_are_found(text: str) -> None:
    assert what_is_read(text)
