"""Reports from the command line."""

from __future__ import annotations

import csv
import re
from typing import TYPE_CHECKING

import openpyxl
import pytest

from tests.cli.command import copied, lotkin
from tests.demo_stores import demo_file
from tests.labels.rendering import text_of

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("demo") / "works.db"
    demo_file(path)
    return path


def test_the_containment_of_the_bad_batch_is_written_down(demo: Path, tmp_path: Path) -> None:
    to = tmp_path / "ANO-009.pdf"
    answer = lotkin("report", "contain", "ANO-009", "--to", to, "--db", demo)
    assert answer == (0, f"containment: 57 units, {to}\n", "")

    asked = lotkin("contain", "ANO-009", "--json", "--db", demo).document()
    text = " ".join(text_of(to.read_bytes()))
    assert "59 of 59 pcs accounted for" in text
    # the sum that everybody makes first
    assert re.search(r"57 units = \d+ at customers \+ \d+ in the works and at suppliers", text)
    assert "exactly" not in text
    for place in (*asked["places"], *asked["customers"]):
        assert [serial for serial in place["serials"] if serial not in text] == []
    assert [item["code"] for item in asked["items"] if item["code"] not in text] == []


def test_the_same_containment_comes_as_a_workbook_and_as_csv(demo: Path, tmp_path: Path) -> None:
    book, table = tmp_path / "a.XLSX", tmp_path / "a.csv"
    assert lotkin("report", "contain", "ANO-009", "--to", book, "--db", demo).status == 0
    assert lotkin("report", "contain", "ANO-009", "--to", table, "--db", demo).status == 0

    asked = lotkin("contain", "ANO-009", "--json", "--db", demo).document()
    sheets = openpyxl.load_workbook(book)
    rows = sheets["summary"].iter_rows(min_row=2, values_only=True)
    summary = {row[0]: row[1] for row in rows}
    assert (summary["units now"], summary["units certain"], summary["units possible"]) == (
        57,
        55,
        2,
    )
    assert summary["account in pcs"] == "59 of 59 pcs accounted for"
    with table.open(encoding="utf-8", newline="") as text:
        members = {row["code"] for row in csv.DictReader(text) if row["role"] == "member"}
    assert members == {item["code"] for item in asked["items"]}


def test_customers_are_told_what_they_have_of_the_bad_batch(demo: Path, tmp_path: Path) -> None:
    paper, book = tmp_path / "notices.pdf", tmp_path / "customers.xlsx"
    answer = lotkin("report", "customers", "ANO-009", "--to", paper, "--db", demo, "--json")
    assert answer.document() == {"report": "customers", "units": 51, "to": str(paper)}
    assert lotkin("report", "customers", "ANO-009", "--to", book, "--db", demo).status == 0

    asked = lotkin("contain", "ANO-009", "--json", "--db", demo).document()["customers"]
    pages = text_of(paper.read_bytes())
    assert len(pages) == len(asked)
    for page, customer in zip(pages, asked, strict=True):
        assert [serial for serial in customer["serials"] if serial not in page] == []
    rows = openpyxl.load_workbook(book)["customers"].iter_rows(min_row=2, values_only=True)
    told = {(row[0], row[4]) for row in rows if row[4]}
    assert told == {(one["customer"], serial) for one in asked for serial in one["serials"]}


def test_no_notice_is_written_where_no_customer_has_any(small_store: Path, tmp_path: Path) -> None:
    to = tmp_path / "x.pdf"
    answer = lotkin("report", "customers", "NUTS-1", "--to", to, "--db", small_store)
    assert (answer.status, to.exists()) == (3, False)


def test_a_repaired_pump_has_its_record_written_down(demo: Path, tmp_path: Path) -> None:
    paper, book, table = tmp_path / "r.pdf", tmp_path / "r.xlsx", tmp_path / "r.csv"
    for to in (paper, book, table):
        assert lotkin("report", "unit", "DP40-0404", "--to", to, "--db", demo).status == 0

    text = " ".join(text_of(paper.read_bytes()))
    # the head of the bad batch was swapped out when it leaked
    assert "A1 T-0044-30 to sample" in " ".join(text.split())
    assert "T-0060-30" in text
    sheets = openpyxl.load_workbook(book)
    rows = [row[:6] for row in sheets["components"].iter_rows(min_row=2, values_only=True)]
    with table.open(encoding="utf-8", newline="") as lines:
        listed = list(csv.DictReader(lines))
    assert [row["lot"] for row in listed] == [row[5] for row in rows]
    assert {row["lot"] for row in listed if row["in_it_now"] == "false"} == {
        "T-0044-30", "HOSE-005",
    }  # fmt: skip


def test_only_a_unit_has_a_record_of_a_unit(small_store: Path, tmp_path: Path) -> None:
    to = tmp_path / "x.pdf"
    assert lotkin("report", "unit", "TIP-1", "--to", to, "--db", small_store).status == 4
    assert not to.exists()


def test_a_case_is_written_down_with_its_decisions(demo: Path, tmp_path: Path) -> None:
    db, paper, book = copied(demo, tmp_path), tmp_path / "case.pdf", tmp_path / "case.xlsx"
    opened = lotkin("contain", "ANO-009", "--open", "--reason", "too thin", "--json", "--db", db)
    case = opened.document()["case"]
    words = ["--decision", "scrap", "--reason", "no use", "--by", "quinn", "--json"]
    decided = lotkin("case", "decide", case, "DP40-0451", *words, "--db", db)
    assert decided.document()["decided"] == ["DP40-0451"]

    for to in (paper, book):
        assert lotkin("report", "case", case, "--to", to, "--db", db).status == 0

    text = " ".join(text_of(paper.read_bytes()))
    assert f"case {case}, open" in text
    assert "reason too thin" in text
    assert "DP40-0451 all scrap quinn no use" in text
    left = lotkin("case", "show", case, "--json", "--db", db).document()["undecided"]
    assert left > 50
    assert f"Without a decision: {left} members" in text
    rows = openpyxl.load_workbook(book)["decisions"].iter_rows(min_row=2, values_only=True)
    decisions = {row[0]: row[2] for row in rows}
    assert decisions.pop("DP40-0451") == "scrap"
    assert list(decisions.values()) == [None] * left


def test_an_unknown_case_has_no_report(small_store: Path, tmp_path: Path) -> None:
    answer = lotkin("report", "case", "CASE-9", "--to", tmp_path / "x.pdf", "--db", small_store)
    assert answer.status == 4


def test_a_report_can_be_narrowed_to_a_time(small_store: Path, tmp_path: Path) -> None:
    to = tmp_path / "narrow.pdf"
    words = ["report", "contain", "TIP-1T", "--to", str(to), "--db", str(small_store)]
    answer = lotkin(*words, "--until", "2026-03-28T00:00:00Z", "--reason", "bath too hot", "--json")

    assert answer.document() == {"report": "containment", "units": 5, "to": str(to)}
    text = text_of(to.read_bytes())[0]
    assert "done at or before 2026-03-28 01:00:00+01:00" in text
    assert "bath too hot" in text


@pytest.mark.parametrize(
    ("words", "status"),
    [
        (["ANO-1", "--to", "x.docx"], 2),
        (["ANO-1", "--to", "no/such/folder/x.pdf"], 3),
        (["NOPE", "--to", "x.pdf"], 4),
        (["ANO-1", "--to", "x.pdf", "--since", "tomorrow"], 2),
        (
            [
                "ANO-1",
                "--to",
                "x.pdf",
                "--since",
                "2026-03-02T00:00Z",
                "--until",
                "2026-03-01T00:00Z",
            ],
            2,
        ),
    ],
)
def test_what_cannot_be_reported_leaves_no_file(
    small_store: Path,
    words: list[str],
    status: int,
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
) -> None:
    monkeypatch.chdir(tmp_path)
    answer = lotkin("report", "contain", *words, "--db", small_store)
    assert answer.status == status, answer.err
    assert list(tmp_path.iterdir()) == []


def test_a_report_never_calls_an_account_complete_that_does_not_add_up(
    demo: Path, tmp_path: Path
) -> None:
    """138 pins were used of a mixed lot of 124."""
    to, book = tmp_path / "MIX-022.pdf", tmp_path / "MIX-022.xlsx"
    assert lotkin("report", "contain", "MIX-022", "--to", to, "--db", demo).status == 0
    assert lotkin("report", "contain", "MIX-022", "--to", book, "--db", demo).status == 0

    said = "does not add up: 14 pcs more were used than were made"
    text = " ".join(text_of(to.read_bytes()))
    assert said in text
    assert "accounted for" not in text
    assert "expected from shares" not in text
    rows = openpyxl.load_workbook(book)["summary"].iter_rows(min_row=2, values_only=True)
    assert {row[0]: row[1] for row in rows}["account in pcs"] == said
