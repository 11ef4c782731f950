"""The table of mutants stands as the code does, so that it cannot go stale unseen."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from mutants.table import LineNotFoundError, Mutant, read_table

ROOT = Path(__file__).parent.parent.parent
ROOMS = {
    "core/access",
    "core/account",
    "core/cases",
    "core/events",
    "core/exposure",
    "core/journal",
    "core/rules",
    "core/scan",
    "core/values",
}
"""Where promises are kept that nothing else would notice."""


def named(mutant: Mutant) -> str:
    return f"{mutant.room} {mutant.promise}"


@pytest.mark.parametrize("mutant", read_table(), ids=named)
def test_the_line_of_a_mutant_stands_once_and_the_broken_file_still_compiles(
    mutant: Mutant,
) -> None:
    text = (ROOT / mutant.file).read_text("utf-8")

    broken = mutant.applied_to(text)

    assert broken != text
    compile(broken, mutant.file, "exec")


@pytest.mark.parametrize("mutant", read_table(), ids=named)
def test_the_tests_that_must_notice_a_mutant_are_there(mutant: Mutant) -> None:
    assert mutant.tests
    for name in mutant.tests:
        path, _, test = name.partition("::")
        assert (ROOT / path).exists()
        assert not test or f"\ndef {test}(" in (ROOT / path).read_text("utf-8")


def test_some_dozens_of_promises_are_guarded_in_each_of_the_rooms_that_keep_them() -> None:
    table = read_table()

    assert len(table) >= 30
    assert {"/".join(mutant.room.split("/")[:2]) for mutant in table} == ROOMS
    assert len({mutant.promise for mutant in table}) == len(table)
    assert len({(mutant.file, mutant.line, mutant.becomes) for mutant in table}) == len(table)
    assert [m.promise for m in table if not re.fullmatch(r"[A-Z].+\.", m.promise)] == []


def test_the_page_has_every_promise_of_the_table_and_says_of_each_what_noticed() -> None:
    written = (ROOT / "docs" / "reference" / "mutants.md").read_text("utf-8")
    rows = re.findall(r"^\| ([A-Z].+?\.) \| `test_\w+\.py`: .+ \|$", written, re.MULTILINE)

    # `make mutants` writes it anew
    assert rows == [
        mutant.promise
        for room in dict.fromkeys(mutant.room for mutant in read_table())
        for mutant in read_table()
        if mutant.room == room
    ]


@pytest.mark.parametrize("text", ["a = 1\n", "if x:\n    b = 2\nb = 2\n", "b = 20\nc = b = 2\n"])
def test_a_line_that_stands_nowhere_or_twice_is_told_and_nothing_is_broken(text: str) -> None:
    mutant = Mutant("One.", "trace/lotkin/core/x.py", "b = 2", "b = 3", ("tests",))

    with pytest.raises(LineNotFoundError, match=r"x\.py: 'b = 2' stands there (0|2) times"):
        mutant.applied_to(text)


def test_what_stands_instead_is_indented_as_the_line_was() -> None:
    mutant = Mutant("One.", "trace/lotkin/core/x.py", "return a", "return b", ("tests",))

    assert mutant.applied_to("def f(a, b):\n    return a\n") == "def f(a, b):\n    return b\n"
