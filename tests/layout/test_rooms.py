"""The rooms of the product: none too full to look over, and its tests stand in the same ones."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.layout.source_tree import ROOT, product_packages

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

MOST_FILES = 12
"""As many as are looked over at a glance; common practice, no source."""

TREES: dict[str, str] = {
    "tests/core": "trace/lotkin/core",
    "tests/uses": "trace/lotkin/uses",
    "tests/store": "trace/lotkin/store",
    "tests/wiring": "trace/lotkin/wiring",
    "tests/answers": "answers/lotkin_answers",
    "tests/cli": "cli/lotkin_cli",
    "tests/labels": "labels/lotkin_labels",
    "tests/service": "service/lotkin_service",
}
"""Folders of tests, and whose rooms they mirror."""

TESTED_AT: dict[str, tuple[str, ...]] = {
    "core/access": ("service/access", "service/api"),  # rights are kept or missed at a door
    "core/dialogue": ("scanning",),  # a dialogue is tested by scanning
    "core/errors": ("cli/output", "docs"),  # by whoever raises them; how they are told
    "uses/access": ("service/access",),  # by signing in
    "store/backups": ("uses/evidence",),  # by backing up and restoring
    "store/reading": ("uses/asking",),  # by every question
    "store/stock": ("uses/asking",),  # by every question
    "store/tables": ("store/migrations",),  # by comparing them with the migrated ones
    "labels/printing": ("labels/reports", "cli/verbs/handing_on"),  # by what is printed
}
"""Rooms without a folder of tests of their own, and where they are tested."""

NOT_MIRRORED = {"service/browser"}
"""Folders of tests that are no room's: what a person sees in a browser is of all pages."""


def modules(folder: Path) -> list[Path]:
    return [path for path in folder.glob("*.py") if path.name != "__init__.py"]


def rooms(top: Path) -> Iterable[Path]:
    """Give every folder with modules, the top one included."""
    return sorted({path.parent for path in top.rglob("*.py") if modules(path.parent)})


def out_of_place(named: Mapping[str, set[str]], tests: Iterable[tuple[str, str]]) -> list[str]:
    """List tests that bear the name of modules, none of which is in their room.

    Args:
        named: Rooms of each name of a module.
        tests: (room, name of the module that the test's file is called after).
    """
    return [
        f"{room}/test_{name}.py"
        for room, name in tests
        if name in named and room not in named[name]
    ]


def test_no_room_holds_more_than_a_dozen_files() -> None:
    full = {
        room.relative_to(ROOT).as_posix(): len(modules(room))
        for top in product_packages().values()
        for room in rooms(top)
        if len(modules(room)) > MOST_FILES
    }
    assert full == {}


@pytest.mark.parametrize("tests", TREES)
def test_tests_stand_in_rooms_that_there_are(tests: str) -> None:
    strange = [
        folder.relative_to(ROOT).as_posix()
        for folder in sorted(
            {path.parent for path in (ROOT / tests).rglob("*.py") if path.parent != ROOT / tests}
        )
        if folder.relative_to(ROOT / "tests").as_posix() not in NOT_MIRRORED
        if not (ROOT / TREES[tests] / folder.relative_to(ROOT / tests)).is_dir()
    ]
    assert strange == []


@pytest.mark.parametrize("tests", TREES)
def test_a_test_named_after_a_module_stands_in_its_room(tests: str) -> None:
    top = ROOT / TREES[tests]
    named: dict[str, set[str]] = {}
    for room in rooms(top):
        for module in modules(room):
            named.setdefault(module.stem, set()).add(room.relative_to(top).as_posix())
    found = [
        (path.parent.relative_to(ROOT / tests).as_posix(), path.stem.removeprefix("test_"))
        for path in (ROOT / tests).rglob("test_*.py")
    ]
    assert out_of_place(named, found) == []


def test_a_test_in_another_room_than_its_module_is_found() -> None:
    named = {"reading": {"scan", "events"}}
    found = [("scan", "reading"), ("plan", "reading"), ("plan", "a_promise")]
    assert out_of_place(named, found) == ["plan/test_reading.py"]


@pytest.mark.parametrize("tests", ["tests/core", "tests/uses", "tests/store", "tests/labels"])
def test_every_room_has_tests_of_its_own_or_is_said_to_be_tested_elsewhere(tests: str) -> None:
    top = ROOT / TREES[tests]
    bare = set()
    for room in rooms(top):
        first = room.relative_to(top).parts[:1]
        if first and not any(True for _ in (ROOT / tests / first[0]).rglob("test_*.py")):
            bare.add(f"{Path(tests).name}/{first[0]}")
    assert bare <= set(TESTED_AT)


def test_what_is_said_to_be_tested_elsewhere_is_tested_there() -> None:
    missing = [
        place
        for places in TESTED_AT.values()
        for place in places
        if not any(True for _ in (ROOT / "tests" / place).rglob("test_*.py"))
    ]
    assert missing == []
