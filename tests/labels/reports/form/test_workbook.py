"""Workbooks and CSV: read back they equal the answer, and nothing in them can be run."""

from __future__ import annotations

import csv
import zipfile
from decimal import Decimal
from io import BytesIO, StringIO
from typing import TYPE_CHECKING

import openpyxl
import pytest
from openpyxl.cell.cell import TYPE_STRING

from lotkin.core.values.quantities import MICRO
from lotkin_labels.reports import (
    DecisionRecord,
    RecordColumn,
    RecordTable,
    containment_tables,
    member_table,
    write_csv,
    write_workbook,
)
from tests.labels.reports.pump_works import pumps, report_on, serials

if TYPE_CHECKING:
    from openpyxl.workbook import Workbook

    from lotkin_labels.reports import ContainmentReport

HOSTILE = [
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    "\tx",
    "http://example.org",
    "{=1}",
    "007",
    "<b>&",
    "1e5",
]


def read(document: bytes) -> Workbook:
    return openpyxl.load_workbook(BytesIO(document))


def records(book: Workbook, sheet: str) -> list[dict[str, object]]:
    head, *rows = book[sheet].iter_rows(values_only=True)
    return [dict(zip(map(str, head), row, strict=True)) for row in rows]


def written(report: ContainmentReport) -> Workbook:
    return read(write_workbook(containment_tables(report), title="x", written_at=None))


def test_the_members_read_back_are_those_of_the_answer() -> None:
    report = report_on(pumps(20, shipped=6), "RUN-1")
    found = report.found

    members = records(written(report), "members")

    assert [row["code"] for row in members if row["role"] == "subject"] == ["RUN-1"]
    assert {row["code"] for row in members if row["role"] == "member"} == {
        row.code for row in found.answer.items
    }
    by_place = {(row["code"], row["place"]): row for row in members}
    for row in found.answer.items:
        for here in row.at:
            one = by_place[row.code, here.place]
            assert one["quantity_here"] == here.quantity / MICRO
            assert one["chance"] == row.chance
            assert one["certainty"] == ("certain" if row.certain else "possible")
            assert (one["removed"], one["held"]) == (row.removed, row.held)
            assert one["within"] == (here.within or None)
    at_clinic = {row["serial"] for row in members if row["customer"] == "CLINIC"} - {None}
    assert at_clinic == set(serials(6))


def test_the_account_read_back_sums_to_its_quantity() -> None:
    report = report_on(pumps(20, shipped=6), "RUN-1")

    lines = records(written(report), "account")

    assert sum(float(str(line["quantity"])) for line in lines) == report.found.accounts[0].quantity
    assert {line["where"] for line in lines} == {
        line.where for line in report.found.accounts[0].lines
    }


def test_the_summary_tells_what_was_asked_and_found() -> None:
    report = report_on(pumps(3), "RUN-1", reason="burr")

    summary = {str(row["what"]): row["value"] for row in records(written(report), "summary")}

    assert summary["reason"] == "burr"
    assert summary["hash of the last event"] == report.head_hash
    assert [summary[f"units {word}"] for word in ("now", "certain", "possible", "at most")] == [
        3, 3, 0, 3,
    ]  # fmt: skip
    assert summary["account in pcs"] == "16 of 16 pcs accounted for"


def test_every_column_of_every_sheet_is_explained() -> None:
    book = written(report_on(pumps(1), "RUN-1"))

    explained = {(row["sheet"], row["column"]) for row in records(book, "columns")}
    for name in ("summary", "members", "account", "decisions"):
        heads = next(book[name].iter_rows(max_row=1, values_only=True))
        assert {(name, head) for head in heads} <= explained
    assert all(row["meaning"] for row in records(book, "columns"))


def test_the_header_stays_in_sight_and_filters() -> None:
    book = written(report_on(pumps(3), "RUN-1"))

    for sheet in book.worksheets:
        assert sheet.freeze_panes == "A2"
    assert book["members"].auto_filter.ref == f"A1:U{book['members'].max_row}"


def hostile_table() -> RecordTable:
    columns = (RecordColumn("text", "A text."), RecordColumn("number", "A number."))
    return RecordTable("texts", columns, tuple((text, Decimal(-1)) for text in HOSTILE))


def test_no_text_becomes_a_formula_a_link_or_a_number() -> None:
    document = write_workbook([hostile_table()], title="=1", written_at=None)

    sheet = read(document)["texts"]
    for (text, number), said in zip(sheet.iter_rows(min_row=2), HOSTILE, strict=True):
        assert text.value == said
        assert text.data_type == TYPE_STRING
        assert text.hyperlink is None
        assert number.value == -1
    with zipfile.ZipFile(BytesIO(document)) as archive:
        for name in archive.namelist():
            assert b"<f>" not in archive.read(name)
            assert b"hyperlink" not in archive.read(name)


@pytest.mark.parametrize("text", HOSTILE)
def test_a_spreadsheet_takes_no_cell_of_the_csv_for_a_formula(text: str) -> None:
    # the characters are those of OWASP, "CSV Injection"
    rows = list(csv.reader(StringIO(write_csv(hostile_table()).decode("utf-8"), newline="")))

    cell, number = rows[1 + HOSTILE.index(text)]
    assert cell in (text, f"'{text}")
    assert not cell.startswith(("=", "+", "-", "@", "\t", "\r"))
    assert number == "-1"


def test_the_csv_says_the_same_as_the_sheet_of_members() -> None:
    report = report_on(pumps(12, shipped=5), "H48")

    rows = list(csv.DictReader(StringIO(write_csv(member_table(report)).decode("utf-8"))))

    members = records(written(report), "members")
    assert [row["code"] for row in rows] == [row["code"] for row in members]
    for one, other in zip(rows, members, strict=True):
        for name in ("quantity", "chance_low", "quantity_here"):
            assert (float(one[name]) if one[name] else None) == other[name]


def test_decisions_have_a_row_each() -> None:
    decided = DecisionRecord(
        member="PUMP-0001",
        decision="scrap",
        person="Quinn",
        reason="=bore",
        decided_on="2026-03-04",
    )
    rows = records(written(report_on(pumps(1), "RUN-1", decisions=(decided,))), "decisions")

    assert rows == [
        {"member": "PUMP-0001", "quantity": "all", "decision": "scrap", "by": "Quinn",
         "reason": "=bore", "date": "2026-03-04"},
    ]  # fmt: skip
