"""A store in which nothing was recorded yet."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.cli.command import lotkin

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def empty(tmp_path: Path) -> Path:
    path = tmp_path / "empty.db"
    answer = lotkin("init", "--json", "--db", path)
    assert answer.document() == {"store": str(path), "made": True}
    return path


def test_no_item_is_known(empty: Path) -> None:
    for verb in ("show", "where-from", "where-used", "contain", "account"):
        answer = lotkin(verb, "ANY", "--json", "--db", empty)
        assert (answer.status, answer.error()["kind"]) == (4, "unknown-code")


def test_an_empty_journal_is_sound(empty: Path) -> None:
    assert lotkin("verify", "--db", empty).out.startswith("journal sound: 0 events")
    assert lotkin("rebuild", "--db", empty).status == 0


def test_nothing_can_be_exported_and_comes_back_as_nothing(empty: Path, tmp_path: Path) -> None:
    items, links = tmp_path / "items.csv", tmp_path / "links.csv"

    written = lotkin("export", "--items", items, "--links", links, "--db", empty)
    read = lotkin("import", "--items", items, "--links", links, "--db", empty)

    assert written == (0, "wrote 0 items and 0 links\n", "")
    assert read.status == 0


def test_an_up_to_date_store_is_upgraded_to_itself(empty: Path) -> None:
    answer = lotkin("init", "--upgrade", "--db", empty)

    assert answer == (0, f"{empty} is up to date\n", "")


def test_without_a_name_the_store_is_made_in_the_current_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)

    assert lotkin("init").out == "made an empty store: lotkin.db\n"
    assert (tmp_path / "lotkin.db").exists()
