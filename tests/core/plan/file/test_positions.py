"""Lines of tables, keys and list entries in TOML texts."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.plan.file.positions import DEEPEST, Positions, find_positions
from tests.core.plan.file.toml_documents import TomlDocument, toml_documents


@given(toml_documents())
def test_everything_that_was_written_is_found_at_its_line(document: TomlDocument) -> None:
    """Python's own reader agrees that the text says what was meant."""
    assert tomllib.loads(document.text) == document.data
    assert find_positions(document.text) == Positions(document.lines)


@given(st.text() | st.text(st.sampled_from("a[]{}=.,\"'#\\\n ")))
def test_no_text_makes_the_scanner_stumble(text: str) -> None:
    last = text.count("\n") + 1
    assert all(1 <= line <= last for line in find_positions(text).lines.values())


def test_entries_of_a_list_of_tables_are_counted() -> None:
    text = (
        '[[part]]\ncode = "A"\n\n[[part.step]]\n[[part.step]]\nrun = 1\n[[part]]\n[part.bar]\nx = 1'
    )
    lines = find_positions(text).lines
    assert lines["part", 0, "step", 1, "run"] == 6
    assert lines["part", 1] == 7
    assert lines["part", 1, "bar", "x"] == 9


def test_an_unknown_path_gets_the_line_of_what_is_around_it() -> None:
    found = find_positions('[[part]]\n\ncode = "A"\n')
    assert found.line_of(("part", 0, "name")) == 1
    assert found.line_of(("part", 0, "code", "deeper")) == 3
    assert found.line_of(("works",)) is None


@pytest.mark.parametrize(
    "text",
    [
        'note = """\n[part]\ncode = 1\n"""\nend = 1',
        "note = '''\n[part]\n# ' '' \n'''\nend = 1",
        'note = """a\\"""\n\n"b""""\n\nend = 1',
        "note = '''\n''\n\n'''''\nend = 1",
        'note = """\\\n   \n\n"""\nend = 1',
        "# \"\"\"\n# [a\n# '''\n\nend = 1",
        'list = [ # ]\n "]", \n # "\n]\nend = 1',
        "when = 2020-01-01 10:00:00\nx = 1.5\ny = 1e3\n\nend = 1",
        '\n\n\nx = "\\" # no comment"\nend = 1',
    ],
)
def test_strings_and_comments_are_passed_over(text: str) -> None:
    assert "end" in tomllib.loads(text)
    lines = find_positions(text).lines
    assert lines["end",] == 5
    assert ("part",) not in lines


@pytest.mark.parametrize("quotes", ['"""', "'''"])
def test_a_text_without_end_is_told_by_the_line_at_which_it_begins(quotes: str) -> None:
    found = find_positions(f"a = {quotes}\n{quotes}\n\nb = {quotes} c = 1\n d = 1")
    assert found == Positions({("a",): 1, ("b",): 4}, unclosed_line=4)


def test_windows_line_ends_count_once() -> None:
    assert find_positions("a = 1\r\nb = 2\r\n").lines == {("a",): 1, ("b",): 2}


@pytest.mark.parametrize(
    ("written", "key"),
    [
        ('"\\u0061"', "a"),
        ('"a\\\\b"', "a\\b"),
        ("'a\\b'", "a\\b"),
        ('"é"', "é"),
        ('"\\q"', '"\\q"'),
    ],
)
def test_quoted_keys_are_decoded_if_they_can_be(written: str, key: str) -> None:
    assert find_positions(f"{written} = 1").lines == {(key,): 1}


@pytest.mark.parametrize(
    "deep",
    [
        "x = " + "[" * 100_000,
        "x = " + "{a=" * 100_000,
        ".".join("a" * 100_000) + " = 1",
        "[" + ".".join("a" * 100_000) + "]",
        "x = {" + ".".join("a" * 100_000) + " = 1}",
    ],
)
def test_bottomless_nesting_is_left_at_once_and_its_line_told(deep: str) -> None:
    found = find_positions(f"a = 1\n\n{deep}")
    assert found.too_deep_line == 3
    assert found.lines["a",] == 1


def test_as_deep_as_allowed_is_not_too_deep() -> None:
    text = "x = " + "[" * DEEPEST + "]" * DEEPEST
    assert find_positions(text).too_deep_line is None
    assert find_positions(text.replace("[]", "[[]]")).too_deep_line == 1
