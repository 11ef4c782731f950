"""A mutant is killed by a test that fails, and by nothing else."""

from __future__ import annotations

from pathlib import Path

import pytest

import mutants.__main__ as command
from mutants.running import Fate, Outcome, Tree, copy_tree
from mutants.table import Mutant

SOURCE = "def most(a, b):\n    return max(a, b)\n"
TESTS = (
    "from lotkin_small import most\n\n\n"
    "def test_the_larger_is_the_most():\n    assert most(1, 2) == 2\n\n\n"
    "def test_of_equals_either_is_the_most():\n    assert most(2, 2) == 2\n"
)
FILE = "trace/lotkin_small.py"


def mutant(becomes: str, *tests: str) -> Mutant:
    return Mutant("The larger is the most.", FILE, "return max(a, b)", becomes, tests)


@pytest.fixture
def tree(tmp_path: Path) -> Tree:
    plugin = Path(command.__file__).parent / "few_examples.py"
    for name, text in {
        FILE: SOURCE,
        "tests/test_small.py": TESTS,
        "mutants/few_examples.py": plugin.read_text("utf-8"),
        ".git/HEAD": "",
    }.items():
        path = tmp_path / "original" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return copy_tree(tmp_path / "original", tmp_path / "copy")


def test_a_mutant_that_a_test_notices_is_killed_by_that_test(tree: Tree) -> None:
    outcome = tree.try_out(mutant("return min(a, b)", "tests/test_small.py"))

    assert (outcome.fate, outcome.by) == (
        Fate.KILLED,
        "tests/test_small.py::test_the_larger_is_the_most",
    )


def test_a_mutant_that_no_test_notices_survives(tree: Tree) -> None:
    weak = "tests/test_small.py::test_of_equals_either_is_the_most"

    assert tree.try_out(mutant("return min(a, b)", weak)).fate is Fate.SURVIVED


@pytest.mark.parametrize(
    ("becomes", "tests"),
    [
        ("return max(a, b", "tests/test_small.py"),
        ("return min(a, b)", "tests/test_small.py::test_that_is_not_there"),
        ("return min(a, b)", "tests/test_elsewhere.py"),
    ],
)
def test_tests_that_cannot_be_run_kill_nothing(tree: Tree, becomes: str, tests: str) -> None:
    outcome = tree.try_out(mutant(becomes, tests))

    assert outcome.fate is Fate.NOT_TRIED
    assert outcome.by


def test_the_copy_is_mended_after_each_mutant_and_the_original_never_touched(
    tree: Tree, tmp_path: Path
) -> None:
    tree.try_out(mutant("return min(a, b)", "tests/test_small.py"))

    assert (tree.root / FILE).read_text("utf-8") == SOURCE
    assert (tmp_path / "original" / FILE).read_text("utf-8") == SOURCE
    assert tree.test(["tests/test_small.py"]).returncode == 0
    assert not (tree.root / ".git").exists()


@pytest.mark.parametrize(
    ("fates", "status"),
    [
        ([Fate.KILLED, Fate.KILLED], 0),
        ([Fate.KILLED, Fate.SURVIVED], 1),
        ([Fate.NOT_TRIED, Fate.KILLED], 1),
    ],
)
def test_the_check_fails_where_one_survives_or_is_not_tried(fates: list[Fate], status: int) -> None:
    outcomes = [Outcome(mutant("x", "tests"), fate, "tests/test_a.py::test_b") for fate in fates]

    assert command.status_of(outcomes) == status


def test_the_check_fails_where_nothing_was_tried() -> None:
    assert command.status_of([]) == 1


def test_the_page_says_of_a_survivor_that_it_survived_and_names_no_test() -> None:
    killed = Outcome(mutant("a", "t"), Fate.KILLED, "tests/test_small.py::test_it_is_seen[1-a]")
    survived = Outcome(mutant("b", "t"), Fate.SURVIVED)

    page = command.page([killed, survived])

    assert "| 2 | 1 |" in page
    assert "| The larger is the most. | `test_small.py`: it is seen |" in page
    assert "| The larger is the most. | **survived** |" in page
