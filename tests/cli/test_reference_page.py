"""The reference page of the command is what the command says of itself."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from tests.cli.command import verbs

DOCS = Path(__file__).resolve().parents[2] / "docs"


def test_the_generated_pages_are_up_to_date() -> None:
    answer = subprocess.run(
        [sys.executable, DOCS / "generate.py", "--check"],
        capture_output=True,
        text=True,
        check=False,
    )

    assert (answer.returncode, answer.stdout, answer.stderr) == (0, "", "")


def test_the_page_has_every_verb() -> None:
    page = (DOCS / "reference" / "cli.md").read_text("utf-8")

    assert [verb for verb in verbs() if f"### `lotkin {' '.join(verb)}`" not in page] == []


def test_anything_but_check_is_wrong_usage() -> None:
    answer = subprocess.run(
        [sys.executable, DOCS / "generate.py", "--chekc"], capture_output=True, check=False
    )

    assert answer.returncode == 2
