"""`plan load` and `plan show`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_cli.options.common import login_name
from tests.cli.command import lotkin
from tests.small_works import PLAN

if TYPE_CHECKING:
    from pathlib import Path

    import pytest

BAD_PLAN = '[works]\nname = "Works"\ntimezone = "Moon/Crater"\n\n[[part]]\ncode = "A B"\n'


def empty_store(folder: Path) -> Path:
    path = folder / "empty.db"
    assert lotkin("init", "--db", path) == (0, f"made an empty store: {path}\n", "")
    return path


def test_a_plan_is_loaded_from_a_file_and_shown(tmp_path: Path) -> None:
    store = empty_store(tmp_path)
    file = tmp_path / "plan.toml"
    file.write_text(PLAN, "utf-8")

    loaded = lotkin("plan", "load", file, "--db", store)
    shown = lotkin("plan", "show", "--db", store)

    assert loaded == (0, "event 1: the plan of Small works is in force, 6 parts\n", "")
    assert shown.out.startswith("Small works, times in Europe/Zurich\nin force since event 1\n")
    for title in ("parts and materials", "benches", "places, suppliers and customers"):
        assert f"\n{title}\n" in shown.out
    assert "PUMP  Leak  at most 1 kPa         1" in shown.out


def test_a_plan_is_loaded_from_standard_input(tmp_path: Path) -> None:
    store = empty_store(tmp_path)

    answer = lotkin("plan", "load", "-", "--by", "quinn", "--json", "--db", store, given=PLAN)

    assert answer.document() == {"event": 1, "unchanged": False}
    history = lotkin("verify", "--json", "--db", store).document()
    assert history["events"] == 1


def test_the_same_plan_again_changes_nothing(own_store: Path) -> None:
    answer = lotkin("plan", "load", "-", "--db", own_store, given=PLAN)

    assert answer.out == "the plan says the same as the one in force, of event 1\n"


def test_the_whole_plan_is_a_document(small_store: Path) -> None:
    document = lotkin("plan", "show", "--json", "--db", small_store).document()

    assert document["event"] == 1
    assert document["plan"]["works"]["name"] == "Small works"
    assert [bench["code"] for bench in document["plan"]["bench"]] == ["B1", "B2"]


def test_all_problems_of_a_plan_are_told_with_their_lines(own_store: Path) -> None:
    answer = lotkin("plan", "load", "-", "--db", own_store, given=BAD_PLAN)

    assert (answer.status, answer.out) == (3, "")
    assert "  line 3: " in answer.err
    assert "  line 6: " in answer.err
    assert answer.err.endswith("hint: correct the lines listed and load it again\n")
    error = lotkin("plan", "load", "-", "--json", "--db", own_store, given=BAD_PLAN).error()
    assert len(error["problems"]) == answer.err.count("\n  line ")


def test_a_plan_beyond_all_measure_is_not_read(
    own_store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("lotkin_cli.inputs.LARGEST_TEXT", 100)

    answer = lotkin("plan", "load", "-", "--json", "--db", own_store, given=PLAN)
    assert (answer.status, answer.error()["kind"]) == (3, "bad-file")


def test_a_store_without_a_plan_says_so(tmp_path: Path) -> None:
    store = empty_store(tmp_path)

    assert "no plan is loaded" in lotkin("plan", "show", "--db", store).out
    document = lotkin("plan", "show", "--json", "--db", store).document()
    assert document == {"event": 0, "plan": None}


def test_who_loads_is_the_one_logged_in_unless_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("getpass.getuser", lambda: "Märta L")
    assert login_name() == "MrtaL"

    def nobody() -> str:
        raise KeyError

    monkeypatch.setattr("getpass.getuser", nobody)
    assert login_name() == "unknown"
