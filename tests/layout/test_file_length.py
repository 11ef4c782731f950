"""Files stay short enough to be read in one go."""

from __future__ import annotations

import pytest

from tests.layout.source_tree import ROOT, project_files

LONGEST_SOURCE = 400
LONGEST_TEST = 500


def too_long(path_in_project: str, line_count: int) -> bool:
    longest = LONGEST_TEST if path_in_project.startswith("tests/") else LONGEST_SOURCE
    return line_count > longest


def test_no_python_file_is_too_long_to_read() -> None:
    lengths = {
        path.relative_to(ROOT).as_posix(): len(path.read_text("utf-8").splitlines())
        for path in project_files()
        if path.suffix == ".py"
    }

    assert {name: length for name, length in lengths.items() if too_long(name, length)} == {}
    assert "trace/lotkin/__init__.py" in lengths


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
