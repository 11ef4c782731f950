"""`demo`: the demo works, and a first look at it."""

from __future__ import annotations

import json
import shlex
from typing import TYPE_CHECKING

import pytest

from tests.cli.command import Ended, lotkin
from tests.cli.shapes import CONTAINMENT, fits

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Ended]:
    folder = tmp_path_factory.mktemp("demo") / "demo-works"
    return folder, lotkin("demo", folder)


def test_the_demo_shows_a_containment(shown: tuple[Path, Ended]) -> None:
    folder, answer = shown

    assert (answer.status, answer.err) == (0, "")
    assert answer.out.startswith(f"{folder / 'lotkin.db'}: the demo works, ")
    assert "\nContainment of " in answer.out
    assert "59 of 59 pcs accounted for" in answer.out


def test_what_to_try_next_works(shown: tuple[Path, Ended]) -> None:
    _, answer = shown

    commands = answer.out.rpartition("Try next:\n")[2].splitlines()
    assert len(commands) == 4
    for command in commands:
        program, *words = shlex.split(command)
        assert program == "lotkin"
        ended = lotkin(*words)
        assert (ended.status, ended.err) == (0, "")


def test_the_demo_containment_is_that_of_contain(shown: tuple[Path, Ended]) -> None:
    folder, answer = shown
    code = answer.out.partition("Containment of ")[2].split()[0]
    store = folder / "lotkin.db"

    document = lotkin("contain", code, "--json", "--db", store).document()

    fits(document, CONTAINMENT)
    assert f"{document['units']} units suspect" in answer.out
    assert lotkin("contain", code, "--db", store).out in answer.out


def test_the_demo_overwrites_nothing(shown: tuple[Path, Ended]) -> None:
    folder, _ = shown

    answer = lotkin("demo", folder, "--json")
    assert (answer.status, answer.error()["kind"]) == (5, "store-exists")


def test_the_demo_needs_a_folder_and_not_a_file(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", "utf-8")

    answer = lotkin("demo", tmp_path / "file", "--json")
    assert (answer.status, answer.error()["kind"]) == (5, "store-unreadable")


def test_the_demo_as_json_is_the_containment_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)

    answer = lotkin("demo", "--json")

    fits(json.loads(answer.out), CONTAINMENT)
    assert (tmp_path / "lotkin.db").exists()
