"""Nothing in the project is tied to one machine or to one package index."""

from __future__ import annotations

import re

import pytest

from tests.layout.source_tree import ROOT, project_files

MACHINE_PATH = re.compile(rb"(?<![\w.])/(work|root|tmp)/")
INDEX_ADDRESS = re.compile(
    rb"(https?|file)://[^\s\"'<>]*/simple\b|pypi\.org|pythonhosted\.org", re.IGNORECASE
)
INDEX_OPTION = re.compile(rb"^\s*(-i|-f|--(extra-)?index-url|--find-links)\b", re.MULTILINE)


def files_matching(pattern: re.Pattern[bytes]) -> list[str]:
    return [
        f"{path.relative_to(ROOT).as_posix()}: {found.group()!r}"
        for path in project_files()
        if (found := pattern.search(path.read_bytes()))
    ]


def test_no_file_names_a_path_of_one_machine() -> None:
    assert files_matching(MACHINE_PATH) == []


def test_no_file_names_a_package_index() -> None:
    assert files_matching(INDEX_ADDRESS) == []


@pytest.mark.parametrize("name", ["requirements.lock", "requirements-dev.lock"])
def test_a_lock_leaves_the_choice_of_index_to_the_machine(name: str) -> None:
    lock = (ROOT / name).read_bytes()

    assert INDEX_OPTION.search(lock) is None
    assert b"://" not in lock


# The samples are put together here so that this file itself stays clean.
@pytest.mark.parametrize("folder", ["work", "root", "tmp"])
def test_a_machine_path_is_recognised(folder: str) -> None:
    assert MACHINE_PATH.search(f"open('/{folder}/x')".encode())


@pytest.mark.parametrize("harmless", ["works/root/x", "a/work/b", "./tmp/x", "/workshop/x"])
def test_a_path_inside_something_else_is_no_machine_path(harmless: str) -> None:
    assert MACHINE_PATH.search(harmless.encode()) is None


@pytest.mark.parametrize("scheme", ["https", "http", "file"])
def test_an_index_address_is_recognised(scheme: str) -> None:
    assert INDEX_ADDRESS.search(f"{scheme}://packages.example/".encode() + b"simple/rich")


@pytest.mark.parametrize("option", ["-i", "--index-url", "--extra-index-url", "--find-links"])
def test_an_index_option_is_recognised(option: str) -> None:
    assert INDEX_OPTION.search(f"rich==15.0.0\n{option} somewhere".encode())
