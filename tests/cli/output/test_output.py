"""How answers are written: tables, JSON, CSV, and what a terminal is sent."""

from __future__ import annotations

import csv
import io
import json
from decimal import Decimal
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfoNotFoundError

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.plan import parse_plan
from lotkin.core.values.quantities import LARGEST, MICRO, from_micro
from lotkin_answers.json_document import encode, number, tidy
from lotkin_answers.places import Places
from lotkin_cli.output import streams
from lotkin_cli.output.progress import Progress
from lotkin_cli.output.streams import Screen, clean
from lotkin_cli.text.form.json_document import write_document
from lotkin_cli.text.form.spreadsheet import write_rows
from lotkin_cli.text.form.table import MANY, Column, capped, print_table, width_of
from tests.small_works import PLAN

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin_answers.json_document import Value

MICROS = st.integers(-LARGEST * MICRO, LARGEST * MICRO)

CODE = "CODE-" + "X" * 70
COLUMNS = [Column("code"), Column("pieces", right=True), Column("note", wraps=True), Column("-")]
ROWS = [(CODE, "5", "a long note of many words that has to be broken somewhere", "")]


class Watched(io.StringIO):
    """A stream that somebody watches."""

    def isatty(self) -> bool:
        return True


def printed(*, is_terminal: bool, has_colour: bool = False, columns: int = 80) -> str:
    stream = io.StringIO()
    screen = Screen(stream, is_terminal, has_colour, columns)
    print_table(COLUMNS, ROWS, screen=screen)
    return stream.getvalue()


# --- tables


def test_a_table_that_is_piped_is_as_wide_as_it_needs() -> None:
    lines = printed(is_terminal=False).splitlines()

    assert len(lines) == 2
    assert lines[1] == f"  {CODE}       5  {ROWS[0][2]}"
    assert all(line == line.rstrip() for line in lines)


def test_a_table_on_a_terminal_breaks_notes_and_never_codes() -> None:
    out = printed(is_terminal=True)

    assert CODE in out
    assert ROWS[0][2] not in out
    assert all(word in out for word in ROWS[0][2].split())
    assert "\x1b" not in out


def test_a_list_of_codes_is_broken_between_them_only() -> None:
    stream = io.StringIO()
    codes = ", ".join(f"SERIAL-{number:012}" for number in range(9))
    print_table([Column("codes", wraps=True)], [(codes,)], screen=Screen(stream, True, False, 10))

    assert stream.getvalue().split()[1:] == codes.split()


def test_a_table_in_colour_has_bold_titles() -> None:
    assert "\x1b[1m" in printed(is_terminal=True, has_colour=True)


def test_a_column_without_content_is_left_out() -> None:
    assert "-\n" not in printed(is_terminal=False)


def test_wide_and_combining_letters_are_counted_as_shown() -> None:
    # Source: Unicode Standard Annex 11, East Asian Width.
    assert width_of("漢字") == 4
    assert width_of("e\u0301") == 1


def test_only_some_rows_are_shown_unless_all_are_wanted() -> None:
    rows = list(range(MANY + 1))

    assert len(capped(rows, everything=False)) == MANY
    assert capped(rows, everything=True) == rows


# --- terminals


def test_colour_is_for_terminals_only(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")

    assert Screen.of(Watched()).has_colour
    assert not Screen.of(io.StringIO()).has_colour


# Source: the convention at no-color.org: any value that is not empty.
@pytest.mark.parametrize(("value", "has_colour"), [("1", False), ("0", False), ("", True)])
def test_no_color_is_honoured(
    monkeypatch: pytest.MonkeyPatch, value: str, *, has_colour: bool
) -> None:
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("NO_COLOR", value)

    assert Screen.of(Watched()).has_colour is has_colour


def test_a_dumb_terminal_has_no_colour(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "dumb")

    assert not Screen.of(Watched()).has_colour


@given(st.text())
def test_nothing_that_a_terminal_obeys_is_left_in_a_clean_text(text: str) -> None:
    assert clean(text).isprintable()


def test_a_very_long_text_is_cut() -> None:
    assert len(clean("x" * 100_000)) < 3_000


def test_where_only_ascii_is_shown_our_signs_are_spelled_out() -> None:
    stream = io.TextIOWrapper(io.BytesIO(), encoding="ascii", errors="backslashreplace")

    streams.write("12\u201340 % …", stream)

    stream.seek(0)
    assert stream.read() == "12-40 % ...\n"


def test_progress_is_shown_after_a_second_and_then_gone(monkeypatch: pytest.MonkeyPatch) -> None:
    stream, now = Watched(), [0.0]
    monkeypatch.setattr("sys.stderr", stream)
    monkeypatch.setattr("time.monotonic", lambda: now[0])

    with Progress("events recorded") as progress:
        progress(1)
        assert stream.getvalue() == ""
        now[0] = 1.5
        progress(500, 1000)
        assert stream.getvalue().endswith("500 of 1000 events recorded")
    assert stream.getvalue().endswith("\r\x1b[K")


def test_progress_is_for_terminals_only(monkeypatch: pytest.MonkeyPatch) -> None:
    stream, now = io.StringIO(), [0.0]
    monkeypatch.setattr("sys.stderr", stream)
    monkeypatch.setattr("time.monotonic", lambda: now[0])

    with Progress("events recorded") as progress:
        now[0] = 60.0
        progress(500)
    assert stream.getvalue() == ""


def test_without_a_plan_places_have_no_names() -> None:
    assert Places(None).titled("STORE") == "STORE"
    assert Places(None).zone is None


def test_a_machine_without_time_zones_shows_utc(monkeypatch: pytest.MonkeyPatch) -> None:
    plan, problems = parse_plan(PLAN, "plan.toml")
    assert problems == []
    assert str(Places(plan).zone) == "Europe/Zurich"

    def none_here(name: str) -> None:
        raise ZoneInfoNotFoundError(name)

    monkeypatch.setattr("zoneinfo.ZoneInfo", none_here)
    assert Places(plan).zone is None


# --- JSON


@given(MICROS)
def test_a_quantity_is_a_number_exact_to_six_decimals(micro: int) -> None:
    written = encode({"quantity": number(micro)})

    assert json.loads(written, parse_float=Decimal, parse_int=Decimal) == {
        "quantity": from_micro(micro)
    }


def test_a_whole_quantity_has_no_decimal_point() -> None:
    assert encode([number(2_000_000), number(None), tidy(3.0), tidy(2.5)]) == "[2, null, 3, 2.5]"


def test_a_large_exact_quantity_stands_among_anything() -> None:
    value: Value = {"ü": [None, True, "x", 1.5, number(123_456_789_012_345_678)]}

    assert json.loads(encode(value), parse_float=Decimal) == {
        "ü": [None, True, "x", Decimal("1.5"), Decimal("123456789012.345678")]
    }


def test_what_is_not_a_number_is_never_written() -> None:
    with pytest.raises(ValueError, match="JSON"):
        encode({"chance": float("nan")})


def test_a_document_that_is_not_whole_does_not_look_so(
    capsys: pytest.CaptureFixture[str],
) -> None:
    def rows() -> Iterator[int]:
        yield 1
        raise RuntimeError

    with pytest.raises(RuntimeError):
        write_document({"items": rows()})

    with pytest.raises(json.JSONDecodeError):
        json.loads(capsys.readouterr().out)


# --- CSV


# Source: OWASP, "CSV Injection".
@pytest.mark.parametrize("beginning", ["=", "+", "-", "@", "\t", "\r"])
def test_a_text_that_a_spreadsheet_would_run_is_disarmed(
    capsys: pytest.CaptureFixture[str], beginning: str
) -> None:
    write_rows(["code"], [[f"{beginning}cmd()"]])

    _, (cell,) = csv.reader(io.StringIO(capsys.readouterr().out, newline=""))
    assert cell.startswith("'")
    assert cell.endswith("cmd()")


def test_numbers_below_zero_stay_numbers(capsys: pytest.CaptureFixture[str]) -> None:
    write_rows(["a", "b", "c", "d"], [[-5, Decimal("-0.5"), None, True]])

    assert capsys.readouterr().out == "a,b,c,d\n-5,-0.5,,true\n"
