"""Files stay short enough to be read in one go."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.layout.source_tree import ROOT, project_files

if TYPE_CHECKING:
    from collections.abc import Mapping

LONGEST_SOURCE = 400
LONGEST_TEST = 500
LONG = 300
MOST_LONG_SOURCES = 5
"""So that a limit of 400 lines does not become a length to aim at."""


def too_long(path_in_project: str, line_count: int) -> bool:
    longest = LONGEST_TEST if path_in_project.startswith("tests/") else LONGEST_SOURCE
    return line_count > longest


def long_sources(lengths: Mapping[str, int]) -> dict[str, int]:
    """Give the sources that are longer than most; tests, which go on line by line, are left out."""
    return {
        name: length
        for name, length in lengths.items()
        if length > LONG and not name.startswith("tests/")
    }


@pytest.fixture(scope="module")
def lengths() -> dict[str, int]:
    return {
        path.relative_to(ROOT).as_posix(): len(path.read_text("utf-8").splitlines())
        for path in project_files()
        if path.suffix == ".py"
    }


def test_no_python_file_is_too_long_to_read(lengths: Mapping[str, int]) -> None:
    assert {name: length for name, length in lengths.items() if too_long(name, length)} == {}
    assert "trace/lotkin/__init__.py" in lengths


def test_few_sources_are_long(lengths: Mapping[str, int]) -> None:
    found = long_sources(lengths)

    assert len(found) <= MOST_LONG_SOURCES, found


def test_a_source_is_long_from_301_lines_and_a_test_is_not_counted() -> None:
    counted = long_sources({"trace/a.py": 300, "trace/b.py": 301, "tests/test_c.py": 450})

    assert counted == {"trace/b.py": 301}


@pytest.mark.parametrize(
    ("path", "line_count", "refused"),
    [
        ("trace/lotkin/core/genealogy/items.py", 400, False),
        ("trace/lotkin/core/genealogy/items.py", 401, True),
        ("tests/core/test_items.py", 500, False),
        ("tests/core/test_items.py", 501, True),
    ],
)
def test_sources_may_have_400_lines_and_tests_500(
    path: str, line_count: int, *, refused: bool
) -> None:
    assert too_long(path, line_count) is refused
