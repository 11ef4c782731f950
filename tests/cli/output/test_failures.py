"""How errors are told: one or two lines or one JSON object, and the promised exit status."""

from __future__ import annotations

import json
import os
import sqlite3
from pathlib import Path

import pytest

from lotkin_cli.output.failures import Failure, report
from lotkin_cli.output.streams import Screen
from tests.cli.command import lotkin

CASES = {
    "no such verb": (["contian", "X"], 2, "usage"),
    "no such option": (["contain", "X", "--frob"], 2, "usage"),
    "no code": (["contain"], 2, "usage"),
    "empty code": (["contain", " "], 2, "usage"),
    "code too long": (["show", "X" * 201], 2, "usage"),
    "code of no text": (["show", "a\udcff"], 2, "usage"),
    "two forms": (["where-used", "X", "--csv"], 2, "usage"),
    "no such kind": (["where-used", "X", "--kind", "units"], 2, "usage"),
    "no such family": (["where-used", "X", "--family", "packs"], 2, "usage"),
    "no moment": (["where-used", "X", "--to", "tomorrow"], 2, "usage"),
    "beyond the calendar": (["where-used", "X", "--to", "0001-01-01T00:00:00+23:00"], 2, "usage"),
    "backward span": (
        ["contain", "X", "--from", "2026-03-02T00:00:00Z", "--to", "2026-03-01T00:00:00Z"],
        2,
        "usage",
    ),
    "not a share": (["where-used", "X", "--min-content", "1.5"], 2, "usage"),
    "not a number": (["where-used", "X", "--min-content", "nan"], 2, "usage"),
    "below zero": (["where-used", "X", "--as-of", "-1"], 2, "usage"),
    "zero byte": (["where-used", "X", "--db", "a\0b"], 2, "usage"),
    "no such event kind": (["schema", "recieve"], 2, "usage"),
    "nothing to import": (["import"], 2, "usage"),
    "unknown code": (["where-used", "PUMP-01"], 4, "unknown-code"),
    "ambiguous code": (["where-used", "LOT-7"], 4, "ambiguous-code"),
    "beyond the journal": (["where-used", "ANO-1", "--as-of", "999"], 4, "unknown-event"),
    "store is there": (["init"], 5, "store-exists"),
    "no such file": (["record", "no-such-file"], 3, "bad-file"),
    "no such plan": (["plan", "load", "no-such-file"], 3, "bad-file"),
    "no such table": (["import", "--items", "no-such-file"], 3, "bad-file"),
    "a folder as a file": (["record", os.curdir], 3, "bad-file"),
}


def case_in(store: Path, case: str) -> tuple[list[str], int, str]:
    """Give a case with the store named, where the verb takes one."""
    words, status, kind = CASES[case]
    needs_store = "--db" not in words and words[0] != "schema"
    return ([*words, "--db", str(store)] if needs_store else words), status, kind


@pytest.mark.parametrize("case", list(CASES))
def test_every_error_has_its_exit_status_and_kind(own_store: Path, case: str) -> None:
    words, status, kind = case_in(own_store, case)

    answer = lotkin(*words, "--json")

    error = answer.error()
    assert (answer.status, error["kind"]) == (status, kind)
    assert list(error)[:4] == ["kind", "message", "record", "hint"]
    assert answer.err.count("\n") == 1


@pytest.mark.parametrize("case", [case for case in CASES if case != "two forms"])
def test_every_error_is_one_or_two_lines_of_text(own_store: Path, case: str) -> None:
    words, status, _ = case_in(own_store, case)

    answer = lotkin(*words)

    lines = answer.err.splitlines()
    assert (answer.status, answer.out) == (status, "")
    assert lines[0].startswith("error: ")
    assert [line[:6] for line in lines[1:]] in ([], ["hint: "])
    assert "Traceback" not in answer.err


def test_a_mistyped_verb_or_code_brings_the_nearest_ones(small_store: Path) -> None:
    assert "'contain'" in lotkin("contian", "X").err
    assert "did you mean unit?" in lotkin("where-used", "X", "--kind", "units").err
    assert "did you mean receive" in lotkin("schema", "recieve").err
    assert "PUMP-001" in lotkin("show", "PUMP-01", "--db", small_store).err


def test_an_ambiguous_code_lists_the_candidates(small_store: Path) -> None:
    error = lotkin("show", "LOT-7", "--json", "--db", small_store).error()

    assert error["candidates"] == ["NUTS-1", "NUTS-2"]


def test_without_a_store_the_way_to_one_is_told(tmp_path: Path) -> None:
    answer = lotkin("verify", "--db", tmp_path / "none.db")

    assert answer.status == 5
    assert "hint: make one with `lotkin init`" in answer.err


def test_the_store_can_be_named_in_the_environment(small_store: Path, tmp_path: Path) -> None:
    environment = {"LOTKIN_DB": str(small_store)}

    assert lotkin("show", "ANO-1", env=environment).status == 0
    assert lotkin("show", "ANO-1", "--db", tmp_path / "none.db", env=environment).status == 5


@pytest.mark.parametrize("content", [b"", b"no database", b"SQLite format 3\0" + b"\xff" * 500])
def test_what_is_no_store_is_refused(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "other.db"
    path.write_bytes(content)

    assert lotkin("verify", "--json", "--db", path).error()["kind"] == "store-unreadable"
    assert path.read_bytes() == content


def test_a_database_of_something_else_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "other.db"
    with sqlite3.connect(path) as connection:
        connection.execute("CREATE TABLE cooking (recipe TEXT)")
    connection.close()

    answer = lotkin("verify", "--db", path)
    assert answer.status == 5
    assert "cannot be used" in answer.err


def test_a_folder_is_no_store(tmp_path: Path) -> None:
    assert lotkin("verify", "--db", tmp_path).status == 5
    assert lotkin("init", "--db", tmp_path).status == 5


def test_what_is_given_is_not_obeyed_by_the_terminal(small_store: Path) -> None:
    answer = lotkin("show", "A\x1b[31mB\nC", "--db", small_store)

    assert "\x1b" not in answer.err
    assert r"A\x1b[31mB C is not recorded" in answer.err


def broken(*_: object) -> None:
    raise RuntimeError("a wire came loose")


def test_the_unexpected_is_told_without_a_traceback(
    small_store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("lotkin.uses.evidence.verify.verify", broken)

    answer = lotkin("verify", "--db", small_store)
    assert answer.status == 5
    assert answer.err.splitlines() == [
        "error: internal error, please report it: RuntimeError: a wire came loose",
        "hint: LOTKIN_TRACEBACK=1 shows where it happened",
    ]
    assert lotkin("verify", "--json", "--db", small_store).error()["kind"] == "internal"


def test_a_developer_can_ask_for_the_traceback(
    small_store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("lotkin.uses.evidence.verify.verify", broken)

    answer = lotkin("verify", "--db", small_store, env={"LOTKIN_TRACEBACK": "1"})
    assert answer.status == 5
    assert "Traceback" in answer.err
    assert "in broken" in answer.err


def test_an_interrupted_command_is_quiet(
    small_store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("lotkin.uses.evidence.verify.verify", interrupted)

    assert lotkin("verify", "--db", small_store) == (130, "", "")


def test_an_error_of_the_system_names_the_file() -> None:
    failure = Failure.of_unexpected(PermissionError(13, "Permission denied", "shop.csv"))

    assert (failure.kind, failure.exit_status) == ("system", 5)
    assert failure.message == "shop.csv: Permission denied"
    assert Failure.of_unexpected(OSError("disk on fire")).message == "OSError"


def test_a_damaged_plan_in_the_store_keeps_its_own_words() -> None:
    from lotkin.core.plan import PlanDataError

    failure = Failure.of_unexpected(PlanDataError([("works.name", "missing")]))

    assert (failure.kind, failure.exit_status) == ("plan-data-damaged", 5)
    assert failure.hint == "load the plan again from its file"


def test_the_label_is_bold_on_a_terminal_only(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    failure = Failure("bad-file", "x.csv: is torn", 3, hint="save it again")
    report(failure, as_json=False)
    plain = capsys.readouterr().err

    coloured_screen = classmethod(lambda cls, stream: cls(stream, True, True, 80))
    monkeypatch.setattr(Screen, "of", coloured_screen)
    report(failure, as_json=False)
    coloured = capsys.readouterr().err

    assert plain == "error: x.csv: is torn\nhint: save it again\n"
    assert coloured.startswith("\x1b[1merror:\x1b[0m x.csv")


def test_all_problems_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    failure = Failure("bad-rows", "two bad rows", 3, problems=("line 2: a", "line 9: b"))

    report(failure, as_json=False)
    assert capsys.readouterr().err == "error: two bad rows\n  line 2: a\n  line 9: b\n"
    report(failure, as_json=True)
    assert json.loads(capsys.readouterr().err)["error"]["problems"] == ["line 2: a", "line 9: b"]


def test_a_long_list_of_problems_is_cut_on_a_screen_and_whole_as_json(
    capsys: pytest.CaptureFixture[str],
) -> None:
    problems = tuple(f"line {number}: bad" for number in range(2, 62))
    failure = Failure("bad-rows", "60 bad rows", 3, problems=problems)

    report(failure, as_json=False)
    lines = capsys.readouterr().err.splitlines()
    assert lines[1:51] == [f"  {problem}" for problem in problems[:50]]
    assert lines[51:] == ["  … and 10 more; --json lists all"]

    report(failure, as_json=True)
    assert json.loads(capsys.readouterr().err)["error"]["problems"] == [*problems]
