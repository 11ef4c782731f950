"""Rows of the table of items."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from lotkin.core.values.instants import to_us
from lotkin.core.values.kinds import FAMILY_OF
from tests.core.plain_tables.small_tables import ITEMS, bad_item, item, items_of


def test_a_full_row_is_read() -> None:
    moment = to_us(datetime(2026, 3, 1, 7, 30, tzinfo=UTC))
    assert item("B-1,bar-lot,ROD-12,12.5,m,2026-03-01T07:30:00Z") == (
        "B-1",
        "bar-lot",
        "ROD-12",
        12_500_000,
        "m",
        moment,
    )


def test_empty_cells_mean_what_the_contract_says() -> None:
    assert item("M-1,,,,,") == ("M-1", "purchased-lot", "", None, "pcs", None)


@pytest.mark.parametrize("kind", ["heat", "source-lot", "bench-setup", "inspection", "tool"])
def test_what_has_no_quantity_needs_no_unit(kind: str) -> None:
    assert item(f"X-1,{kind},,,,")[4] == ""


def test_a_tool_that_is_counted_is_counted_in_pieces() -> None:
    assert item("T-1,tool,,1,,")[4] == "pcs"


@pytest.mark.parametrize("kind", FAMILY_OF)
def test_every_kind_is_known(kind: str) -> None:
    assert item(f"X-1,{kind},,1,pcs,")[1] == kind


@pytest.mark.parametrize(
    ("text", "micro"),
    [
        ("0", 0),
        ("0.000001", 1),
        ("00012", 12_000_000),
        (".5", 500_000),
        ("7.", 7_000_000),
        ("1.50000000", 1_500_000),
        ("1000000000000", 10**18),
    ],
)
def test_a_decimal_is_read_exactly(text: str, micro: int) -> None:
    assert item(f"P-1,powder-lot,,{text},kg,")[3] == micro


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("-3", "quantity: -3 is below zero"),
        ("12;5", "quantity: 12;5 is not a number"),
        ("1e5", "quantity: 1e5 is short for a number; write it out, like 125000"),
        ("0.0000001", "quantity: 0.0000001 has more than six decimals"),
        ("1000000000000.000001", "quantity: 1000000000000.000001 is larger than any works holds"),
        ("99999999999999999999", "quantity: 99999999999999999999 is larger than any works holds"),
        ("nan", "quantity: nan is not a number"),
        ("Infinity", "quantity: Infinity is not a number"),
        ("٣", "quantity: ٣ is not a number"),
        (".", "quantity: . is not a number"),
        ("1." + "0" * 50, f"quantity: 1.{'0' * 38}… has more than 40 characters"),
    ],
)
def test_what_is_no_quantity_is_told(text: str, problem: str) -> None:
    assert bad_item(f"P-1,powder-lot,,{text},kg,") == problem


def test_a_decimal_comma_is_not_guessed_at() -> None:
    """`1,250` is one and a quarter in one country and 1250 in another."""
    assert bad_item('P-1,powder-lot,,"1,250",kg,') == (
        "quantity: 1,250 has a comma; write it with a decimal point, like 1250.5"
    )


def test_pieces_are_counted_in_whole_numbers() -> None:
    assert bad_item("M-1,,,2.5,pcs,") == "quantity: 2.5 pcs is not a whole number of pieces"
    assert bad_item("M-1,,,2.5,,") == "quantity: 2.5 pcs is not a whole number of pieces"


@pytest.mark.parametrize(
    ("row", "problem"),
    [
        (",,,,,x", "code: is empty"),
        ("A 1,,,,,", "code: A 1 is no code: 1 to 80 printable ASCII characters without spaces"),
        ("Ä1,,,,,", "code: Ä1 is no code: 1 to 80 printable ASCII characters without spaces"),
        ("A-1,,Rod 12,,,", "part: Rod 12 is no part number: "),
        ("A-1,bar-lots,,,,", "kind: bar-lots is no kind of item; did you mean bar-lot"),
        ("A-1,zzz,,,,", "kind: zzz is no kind of item; kinds are source-lot, heat, "),
        ("A-1,,,,lb,", "unit: lb is no unit; units are pcs, kg, m"),
    ],
)
def test_a_bad_cell_is_told(row: str, problem: str) -> None:
    _, problems = items_of(f"{ITEMS}\n{row}\n")
    assert problems[0].removeprefix("items.csv line 2, column ").startswith(problem)


def test_a_code_has_at_most_80_characters() -> None:
    assert item(f"{'A' * 80},,,,,")[0] == "A" * 80
    assert bad_item(f"{'A' * 81},,,,,") == (
        f"code: {'A' * 40}… is no code: 1 to 80 printable ASCII characters without spaces"
    )


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("2026-03-01", datetime(2026, 3, 1, tzinfo=UTC)),
        ("2026-03-01T07:30:00+01:00", datetime(2026, 3, 1, 6, 30, tzinfo=UTC)),
        ("2026-03-01t07:30:00z", datetime(2026, 3, 1, 7, 30, tzinfo=UTC)),
        ("2026-03-01 07:30:00.5Z", datetime(2026, 3, 1, 7, 30, 0, 500_000, tzinfo=UTC)),
        ("2024-02-29", datetime(2024, 2, 29, tzinfo=UTC)),
        # The examples of RFC 3339, section 5.8 (the two with a leap second left out).
        ("1985-04-12T23:20:50.52Z", datetime(1985, 4, 12, 23, 20, 50, 520_000, tzinfo=UTC)),
        ("1996-12-19T16:39:57-08:00", datetime(1996, 12, 20, 0, 39, 57, tzinfo=UTC)),
        ("1937-01-01T12:00:27.87+00:20", datetime(1937, 1, 1, 11, 40, 27, 870_000, tzinfo=UTC)),
    ],
)
def test_a_moment_is_read(text: str, moment: datetime) -> None:
    assert item(f"A-1,,,,,{text}")[5] == to_us(moment)


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("2026-03-01T07:30:00", "has no time zone; write it like 2026-03-01T07:30:00Z"),
        ("01.03.2026", "is no moment; write it like 2026-03-01T07:30:00Z"),
        ("20260301", "is no moment; write it like 2026-03-01T07:30:00Z"),
        ("2026-W10-1", "is no moment; write it like 2026-03-01T07:30:00Z"),
        ("2026-03-01T24:00:00Z", "is no moment; write it like 2026-03-01T07:30:00Z"),
        ("2026-02-29", "is not in the calendar"),
        ("2026-03-01T07:61:00Z", "is not in the calendar"),
        ("2026-03-01T07:30:00+99:99", "is not in the calendar"),
        ("0001-01-01T00:00:00+14:00", "is not a date that a works can have"),
        ("9999-12-31T23:59:59-14:00", "is not a date that a works can have"),
    ],
)
def test_what_is_no_moment_is_told(text: str, problem: str) -> None:
    assert bad_item(f"A-1,,,,,{text}") == f"made_at: {text} {problem}"


def test_an_endless_moment_is_told_in_short() -> None:
    text = f"2026-03-01T00:00:00.{'0' * 50_000}Z"
    assert bad_item(f"A-1,,,,,{text}") == (
        f"made_at: {text[:40]}… is no moment; write it like 2026-03-01T07:30:00Z"
    )


def test_a_code_that_stands_there_twice_is_told_with_the_first_line() -> None:
    table, problems = items_of(f"{ITEMS}\nA-1,,,5,,\nB-1,,,,,\nA-1,,,6,,\n")
    assert problems == ["items.csv line 4, column code: A-1 stands on line 2 already"]
    assert table.rows["A-1"][3] == 5_000_000


def test_all_bad_cells_of_a_row_are_told() -> None:
    _, problems = items_of(f"{ITEMS}\n,nut,a b,-1,lb,now\n")
    assert [problem.split(":")[0] for problem in problems] == [
        f"items.csv line 2, column {column}"
        for column in ("code", "kind", "part", "quantity", "unit", "made_at")
    ]


def test_an_item_with_a_bad_cell_is_still_known_to_links() -> None:
    table, problems = items_of(f"{ITEMS}\nA-1,,,-1,,\n")
    assert len(problems) == 1
    assert list(table.rows) == ["A-1"]
