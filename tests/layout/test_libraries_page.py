"""Every library that lotkin takes to run has its row: what for, where, and what it costs."""

from __future__ import annotations

import re
import tomllib

import pytest

from tests.layout.source_tree import ROOT

PAGE = (ROOT / "docs/explanation/libraries.md").read_text("utf-8")
PACKAGES = ("trace", "answers", "cli", "labels", "service", "seed_data")


def needed() -> list[str]:
    """List the libraries that running needs, as pyproject names them."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    return [re.split(r"[\[<>=;~ ]", said, maxsplit=1)[0] for said in project["dependencies"]]


def rows() -> dict[str, list[str]]:
    """Give the rows of the page by library."""
    found = {}
    for line in PAGE.splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if len(cells) == 5 and re.fullmatch(r"[a-z0-9-]+", cells[0]) and cells[0] != "library":
            found[cells[0]] = cells[1:]
    return found


def test_every_library_to_run_has_a_row_and_no_other_has() -> None:
    assert sorted(row for row in rows() if set(row) != {"-"}) == sorted(needed())


@pytest.mark.parametrize("library", needed())
def test_a_row_says_what_for_where_and_what_it_costs(library: str) -> None:
    what_for, where, megabytes, milliseconds = rows()[library]
    assert what_for
    assert re.fullmatch(r"[0-9]+\.[0-9]", megabytes)
    assert milliseconds.isdigit()
    for path in re.findall(r"`(lotkin[^`]*)`", where):
        assert any((ROOT / package / path).exists() for package in PACKAGES), path
