"""What the command says about itself."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from importlib.metadata import version
from typing import TYPE_CHECKING, Any

import pytest
import typer.main

from lotkin_cli.main import VERBS, make_app, run
from tests.cli.command import fill_small_store, lotkin, verbs

if TYPE_CHECKING:
    from pathlib import Path

# Libraries that take long to load; a small question must not wait for them.
SLOW = {"alembic", "networkx", "numpy", "pydantic", "rich", "scipy", "sqlalchemy", "sqlmodel"}


def test_version_is_the_installed_one() -> None:
    assert lotkin("--version") == (0, f"lotkin {version('lotkin')}\n", "")


def test_help_is_plain_text_that_pipes_well() -> None:
    answer = lotkin("--help")

    assert answer.out.startswith("Usage: lotkin ")
    assert answer.out.isascii()
    assert answer.status == 0


def test_help_lists_the_verbs_in_the_order_of_work() -> None:
    headings = re.findall(r"^(\w[\w ]+):$", lotkin("--help").out, re.MULTILINE)
    listed = re.findall(r"^  ([a-z][a-z-]+)  ", lotkin("--help").out, re.MULTILINE)

    assert headings == [
        "Options",
        "Begin",
        "Record what happens",
        "Ask",
        "Print",
        "Keep the record",
    ]
    assert listed[:3] == ["init", "demo", "plan"]
    assert set(listed) == {verb[0] for verb in verbs()}


def test_no_verb_is_cut_short_in_the_list() -> None:
    assert "..." not in lotkin("--help").out.removeprefix(
        "Usage: lotkin [OPTIONS] COMMAND [ARGS]..."
    )
    assert "..." not in lotkin("plan", "--help").out.split("\n", 1)[1]


@pytest.mark.parametrize("verb", verbs(), ids=" ".join)
def test_every_verb_has_a_help_that_ends_with_an_example(verb: list[str]) -> None:
    answer = lotkin(*verb, "--help")

    said, _, example = answer.out.rpartition("Example:\n")
    assert answer.status == 0
    assert f"Usage: lotkin {' '.join(verb)}" in said
    assert all(line.startswith("    lotkin ") for line in example.rstrip("\n").split("\n"))


@pytest.mark.parametrize("verb", verbs(), ids=" ".join)
def test_every_option_of_an_example_is_one_of_the_verb(verb: list[str]) -> None:
    said, _, example = lotkin(*verb, "--help").out.rpartition("Example:\n")

    words = [word for line in example.splitlines() for word in shlex.split(line)]
    options = [word for word in words if word.startswith("--")]
    assert [option for option in options if f"  {option}" not in said] == []
    assert example.count(f"lotkin {' '.join(verb)}") == len(example.strip().splitlines())


@pytest.mark.parametrize("verb", verbs(), ids=" ".join)
def test_every_verb_takes_json(verb: list[str]) -> None:
    assert "  --json" in lotkin(*verb, "--help").out


def test_without_a_verb_the_help_goes_to_standard_error() -> None:
    answer = lotkin()

    assert (answer.status, answer.out) == (2, "")
    assert answer.err.startswith("Usage: lotkin ")


def test_an_unknown_option_is_wrong_usage(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    # Exit status 2 as docs promise for wrong usage; through run() as a shell would.
    monkeypatch.setattr(sys, "argv", ["lotkin", "--no-such-option"])

    with pytest.raises(SystemExit) as leaving:
        run()

    assert leaving.value.code == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "--no-such-option" in printed.err


def test_asking_for_the_version_loads_nothing_slow() -> None:
    program = (
        "import sys; sys.argv = ['lotkin', '--version']\n"
        "from lotkin_cli.main import run\n"
        "try: run()\n"
        "except SystemExit: print(*sys.modules)"
    )

    answer = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )

    loaded = {name.partition(".")[0] for name in answer.stdout.split("\n", 1)[1].split()}
    assert "typer" in loaded
    assert loaded & SLOW == set()


def test_a_verb_is_found_in_the_module_that_is_said_to_have_it() -> None:
    for module, there in VERBS.items():
        root: Any = typer.main.get_command(make_app([module]))
        assert tuple(root.commands) == there, module


def test_a_question_loads_nothing_slow(tmp_path: Path) -> None:
    store = tmp_path / "works.db"
    fill_small_store(store)
    words = ["lotkin", "where-used", "BAR-A", "--db", str(store)]
    program = (
        f"import sys; sys.argv = {words!r}\n"
        "from lotkin_cli.main import run\n"
        "try: run()\n"
        "finally: print('loaded', *sys.modules)"
    )

    answer = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )

    said, _, loaded = answer.stdout.partition("loaded ")
    names = {name.partition(".")[0] for name in loaded.split()}
    assert "PUMP-001" in said
    assert names & SLOW == set()
