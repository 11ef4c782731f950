"""Headers, delimiters, quotes, line ends and encodings of both tables."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.plain_tables import Problem
from lotkin.core.plain_tables.rows import LONGEST_LINE, Layout, Rows
from tests.core.plain_tables.small_tables import ITEMS, items_of, lines_of, links_of

PLAIN = f"{ITEMS}\nA-1,,ROD,5,pcs,\n"
READ = ("A-1", "purchased-lot", "ROD", 5_000_000, "pcs", None)


@pytest.mark.parametrize(
    "data",
    [
        PLAIN.encode(),
        b"\xef\xbb\xbf" + PLAIN.encode(),
        PLAIN.replace("\n", "\r\n").encode(),
        PLAIN.rstrip("\n").encode(),
        PLAIN.replace("\n", "\n\n  \n,,,,,\n").encode(),
        b"\n\n" + PLAIN.encode(),
        PLAIN.replace(",", ";").encode(),
        PLAIN.replace(",", " , ").encode(),
        PLAIN.replace("\n", ",,,\n").encode(),
        PLAIN.upper().replace("PCS", "pcs").encode(),
        b'"code","kind","part","quantity","unit","made_at"\n"A-1","","ROD","5","pcs",""\n',
        b"unit,made_at,quantity,part,kind,code\npcs,,5,ROD,,A-1\n",
    ],
)
def test_a_table_is_read_however_it_was_saved(data: bytes) -> None:
    table, problems = items_of(data)
    assert problems == []
    assert list(table.rows.values()) == [READ]


def test_lines_are_counted_as_an_editor_counts_them() -> None:
    _, problems = items_of(f"\n{ITEMS}\n\n\nA 1,,,,,\n")
    assert [problem.split(",")[0] for problem in problems] == ["items.csv line 5"]


@pytest.mark.parametrize(
    ("data", "problem"),
    [
        (b"", " line 1: is empty; its first line must be code,kind,part,quantity,unit,made_at"),
        (b"\n\n", " line 1: is empty; its first line must be code,kind,part,quantity,unit,made_at"),
        (
            b"A-1,,ROD,5,pcs,\n",
            " line 1: the first line must name the columns: code,kind,part,quantity,unit,made_at",
        ),
        (PLAIN.encode("utf-16"), " line 1: is UTF-16, not UTF-8; save it as CSV in UTF-8"),
        (PLAIN.encode("utf-16-le"), " line 1: is no text in UTF-8; save it as CSV in UTF-8"),
        (
            PLAIN.replace(",", "\t").encode(),
            " line 1: is divided by tabs; save it with commas or semicolons",
        ),
        (
            PLAIN.replace("\n", "\r").encode(),
            " line 1: lines end in CR alone; save it with LF or CR LF",
        ),
        (
            b"code,kind,part,quantity,unit,made_at,note\n",
            (
                " line 1, column note: is not known; "
                "the columns are code, kind, part, quantity, unit, made_at"
            ),
        ),
        (b"code,kind,part,quantity,unit\n", " line 1, column made_at: is missing in the header"),
        (
            b"code,kind,part,quantity,unit,made_at,code\n",
            " line 1, column code: stands in the header twice",
        ),
        (
            b'"code,kind,part\n',
            ' line 1: a quote (") is not closed, or text stands beside it',
        ),
        (b"\xff,\n", " line 1: is not UTF-8 (byte 0xff); save it as CSV in UTF-8"),
    ],
)
def test_a_file_that_is_no_such_table_is_told_once(data: bytes, problem: str) -> None:
    table, problems = items_of(data)
    assert problems == [f"items.csv{problem}"]
    assert not table.is_readable
    assert table.rows == {}


def test_all_that_is_wrong_with_a_header_is_told() -> None:
    _, problems = links_of("parent,childs,quantity,quantity\n")
    assert problems == [
        (
            "links.csv line 1, column childs: is not known; "
            "the columns are parent, child, quantity, group, mixing, per"
        ),
        "links.csv line 1, column quantity: stands in the header twice",
        "links.csv line 1, column child: is missing in the header",
    ]


@pytest.mark.parametrize(("row", "count"), [("A-1", 1), ("A-1,,,,", 5), ("A-1,,,,,,x", 7)])
def test_a_row_with_another_number_of_cells_is_told(row: str, count: int) -> None:
    _, problems = items_of(f"{ITEMS}\n{row}\n")
    assert problems == [f"items.csv line 2: has {count} cells, the header has 6"]


@pytest.mark.parametrize("row", ['"A-1,,,,,', 'A-1,"x"y,,,,', '"', 'A-1,,,,,"'])
def test_a_lone_quote_spoils_one_row_only(row: str) -> None:
    table, problems = items_of(f"{ITEMS}\n{row}\nB-1,,,,,\n")
    assert problems == ['items.csv line 2: a quote (") is not closed, or text stands beside it']
    assert list(table.rows) == ["B-1"]


def test_a_row_in_another_encoding_is_told_and_the_rest_is_read() -> None:
    data = f"{ITEMS}\nA-1,,Gehäuse,,,\nB-1,,,,,\n".encode("cp1252")
    table, problems = items_of(data)
    assert problems == ["items.csv line 2: is not UTF-8 (byte 0xe4); save it as CSV in UTF-8"]
    assert list(table.rows) == ["B-1"]


def test_a_huge_cell_is_told_in_a_few_words() -> None:
    fits = "A" * (LONGEST_LINE - 20)
    _, problems = items_of(f"{ITEMS}\n{fits},,,,,\n{fits}{fits},,,,,\n")
    assert problems[0].startswith(f"items.csv line 2, column code: {'A' * 40}… is no code")
    assert problems[1] == f"items.csv line 3: is longer than {LONGEST_LINE} bytes"


def test_what_a_terminal_would_obey_is_not_repeated() -> None:
    _, problems = items_of(f"{ITEMS}\nA\x1b[2J\0,,,,,\n")
    assert problems[0].startswith("items.csv line 2, column code: A\\x1b[2J\\x00 is no code")


def test_ten_thousand_bad_rows_are_all_told() -> None:
    rows = "".join(f"A {number},nonsense-{number},,,,\n" for number in range(10_000))
    _, problems = items_of(f"{ITEMS}\n{rows}")
    assert len(problems) == 20_000
    assert problems[-1].startswith("items.csv line 10001, column kind: nonsense-9999 is no kind")


@given(st.binary(max_size=300))
def test_no_bytes_upset_the_reading_of_items(data: bytes) -> None:
    table, problems = items_of(data)
    assert problems or table.is_readable


@given(st.lists(st.binary(max_size=60), max_size=8))
def test_no_bytes_below_a_good_header_upset_the_reading(rows: list[bytes]) -> None:
    data = ITEMS.encode() + b"\n" + b"\n".join(rows)
    table, problems = items_of(data)
    assert table.is_readable
    for problem in problems:
        assert problem.isprintable()


CELLS = st.text(
    st.characters(codec="utf-8", exclude_characters="\r\n", exclude_categories=["Cs"]), max_size=8
)


@given(st.lists(st.tuples(CELLS, CELLS, CELLS), max_size=6), st.sampled_from(",;"))
def test_what_the_standard_library_writes_is_read_back(
    rows: list[tuple[str, str, str]], delimiter: str
) -> None:
    """Second opinion: the writer of Python's csv module (RFC 4180 quoting)."""
    text = io.StringIO()
    writer = csv.writer(text, delimiter=delimiter, lineterminator="\n")
    writer.writerow(("a", "b", "c"))
    writer.writerows(rows)
    problems: list[Problem] = []
    reader = Rows("t.csv", lines_of(text.getvalue()), Layout(("a", "b", "c")), problems)
    read = [cells for _, cells in reader]
    stripped = [[cell.strip() for cell in row] for row in rows]
    assert problems == []
    assert read == [row for row in stripped if any(row)]
