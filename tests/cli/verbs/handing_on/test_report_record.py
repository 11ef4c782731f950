"""The whole record as a table for a spreadsheet."""

from __future__ import annotations

import csv
from typing import TYPE_CHECKING

import openpyxl

from lotkin.uses.reporting.record_rows import record_rows
from lotkin.wiring import open_store
from tests.cli.command import lotkin
from tests.small_works import PLAN, Works

if TYPE_CHECKING:
    from pathlib import Path


def filled(path: Path) -> Works:
    works = Works(str(path), plan=PLAN)
    works.receive("BAD", 100, part="TIP", item_kind="machined-lot", supplier_lot="S-9")
    works.receive("SCREWS", 500)
    works.mount({"P1": "BAD", "P2": "SCREWS"})
    works.build("U1")
    works.test("U1")
    works.do("move", item="BAD", quantity=7, to_place="FLOOR")
    works.ship("SHP", {"U1": 1}, reference="=PO 7")
    works.do("open-case", case="C-1", subjects=["BAD"], reason="cracks")
    return works


def rows_of(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(path.read_text("utf-8").splitlines()))


def test_every_event_has_a_row_and_says_who_what_how_much_where_and_when(tmp_path: Path) -> None:
    db, to = tmp_path / "works.db", tmp_path / "record.csv"
    works = filled(db)
    ended = lotkin("report", "record", "--to", to, "--db", db)
    rows = rows_of(to)
    assert ended.out == f"record: {len(rows)} rows, {to}\n"
    assert {int(row["event"]) for row in rows} == set(range(1, works.head() + 1))
    received = next(row for row in rows if row["item"] == "BAD" and row["did"] == "made")
    assert (received["quantity"], received["unit"], received["to"]) == ("100", "pcs", "SHELF")
    assert (received["by"], received["supplier_lot"]) == ("ANN", "S-9")
    moved = next(row for row in rows if row["kind"] == "move")
    assert (moved["did"], moved["quantity"], moved["from"], moved["to"]) == (
        "moved", "7", "ROOM-1", "FLOOR",
    )  # fmt: skip
    built = [row for row in rows if row["kind"] == "build" and row["did"] == "used"]
    assert {row["into"] for row in built} == {"U1"}
    shipped = [row for row in rows if row["kind"] == "ship"]
    assert {row["order"] for row in shipped} == {"'=PO 7"}, "no formula"
    assert [row["did"] for row in rows if row["kind"] == "open-case"] == ["about"]


def test_a_workbook_holds_the_same_and_explains_its_columns(tmp_path: Path) -> None:
    db = tmp_path / "works.db"
    filled(db)
    lotkin("report", "record", "--to", tmp_path / "r.csv", "--db", db)
    lotkin("report", "record", "--to", tmp_path / "r.xlsx", "--db", db)
    book = openpyxl.load_workbook(tmp_path / "r.xlsx")
    cells = list(book["record"].values)
    assert len(cells) == len(rows_of(tmp_path / "r.csv")) + 1
    assert list(cells[0]) == list(rows_of(tmp_path / "r.csv")[0])
    explained = {row[1] for row in book.worksheets[-1].values}
    assert set(cells[0]) <= explained


def test_a_span_and_an_empty_works(tmp_path: Path) -> None:
    db, to = tmp_path / "works.db", tmp_path / "r.csv"
    filled(db)
    words = ("report", "record", "--to", to, "--db", db)
    lotkin(*words, "--since", "2026-03-02T06:03:00Z", "--until", "2026-03-02T06:04:00Z")
    assert {row["happened"] for row in rows_of(to)} == {
        "2026-03-02T06:03:00Z", "2026-03-02T06:04:00Z",
    }  # fmt: skip
    assert lotkin("report", "record", "--to", tmp_path / "r.pdf", "--db", db).status == 2
    Works(str(tmp_path / "empty.db")).store.close()
    said = lotkin("report", "record", "--to", to, "--json", "--db", tmp_path / "empty.db")
    assert said.document()["rows"] == 0


def test_what_is_made_is_what_was_recorded(tmp_path: Path) -> None:
    db = tmp_path / "works.db"
    filled(db)
    with open_store(str(db)).reading() as view:
        rows = list(record_rows(view))
        made = {row.item: row.quantity for row in rows if row.did == "made"}
        assert made == {item.code: item.quantity for item in view.all_items()}
        used = sorted((row.item, row.into) for row in rows if row.did == "used")
        assert used == sorted((link.parent, link.child) for link in view.all_links())


FILE = "ab" * 32


def documented(path: Path) -> Works:
    """Receive with all papers, test, inspect, decide, close, ship, and take one test back."""
    works = Works(str(path), plan=PLAN)
    works.receive(
        "BAD",
        100,
        part="TIP",
        item_kind="machined-lot",
        supplier="MILL",
        source={"kind": "source-lot", "number": "L-1"},
        delivery_note="DN-4711",
        certificate="3.1",
        documents=[
            {"sha256": FILE, "name": "c.pdf", "media_type": "application/pdf", "size": 9},
        ],
    )
    works.receive("SCREWS", 500, delivery_note="=1+1")
    works.bar("BAR-A", 10)
    works.make({"TIP-1": 10}, {"BAR-A": 5}, run="RUN-1", traveller="T-9")
    works.mount({"P1": "BAD", "P2": "SCREWS"})
    works.build("U1")
    works.build("U2")
    works.inspect("U2", "INS-1", "rejected", reason="burr")
    works.test("U1", "0.4")
    wrong = works.test("U2", "0.9")
    works.void(wrong)
    works.pack("C-1", "U1")
    works.ship("SHP", "C-1", reference="PO 7")
    works.do("open-case", case="CASE-1", subjects=["BAD"], reason="cracks")
    works.do(
        "decide",
        case="CASE-1",
        members=[{"item": "U1"}],
        decision="cleared by evidence",
        reason="measured",
        evidence="REPORT-9",
    )
    return works


def test_papers_and_parties_have_a_column_each_and_no_cell_shows_a_structure(
    tmp_path: Path,
) -> None:
    """Key data: reference document, lot code source, recipient, description.

    Source: 21 CFR 1.1340 and 1.1345, read as a list of questions.
    """
    db, to = tmp_path / "works.db", tmp_path / "record.csv"
    documented(db)
    assert lotkin("report", "record", "--to", to, "--db", db).status == 0
    rows = rows_of(to)
    received = next(row for row in rows if row["item"] == "BAD" and row["did"] == "made")
    assert (received["delivery_note"], received["certificate"]) == ("DN-4711", "3.1")
    assert (received["certificate_file"], received["part_name"]) == (FILE, "Tip")
    made = next(row for row in rows if row["item"] == "TIP-1")
    assert made["traveller"] == "T-9"
    screws = next(row for row in rows if row["item"] == "SCREWS" and row["did"] == "made")
    assert screws["delivery_note"] == "'=1+1", "no formula"
    shipped = next(row for row in rows if row["kind"] == "ship" and row["did"] == "moved")
    assert (shipped["recipient"], shipped["recipient_name"]) == ("CLINIC", "Clinic")
    assert (shipped["order"], shipped["delivery_note"]) == ("PO 7", "")
    inside = [row for row in rows if row["kind"] == "ship" and row["item"] == "U1"]
    assert {(row["to"], row["to_within"]) for row in inside if row["did"] == "moved"} == {
        ("CLINIC", "C-1")
    }
    assert [cell for row in rows for cell in row.values() if "{" in cell or " in C-1" in cell] == []


def test_what_was_found_and_decided_stands_beside_the_item_that_it_is_about(
    tmp_path: Path,
) -> None:
    db, to = tmp_path / "works.db", tmp_path / "record.csv"
    documented(db)
    lotkin("report", "record", "--to", to, "--db", db)
    results = [
        (row["kind"], row["item"], row["case"], row["result"])
        for row in rows_of(to)
        if row["result"]
    ]
    assert [each for each in results if each[0] != "void"] == [
        ("inspect", "U2", "", "rejected: burr"),
        ("test", "U1", "", "Leak: passed, 0.4 kPa (max 1)"),
        ("test", "U2", "", "voided by event 12"),
        ("open-case", "BAD", "CASE-1", "opened: cracks"),
        ("decide", "U1", "CASE-1", "cleared by evidence: measured (evidence: REPORT-9)"),
    ]


def test_a_test_that_was_taken_back_is_never_told_as_passed(tmp_path: Path) -> None:
    db, to = tmp_path / "works.db", tmp_path / "record.csv"
    documented(db)
    lotkin("report", "record", "--to", to, "--db", db)
    of_u2 = [row["result"] for row in rows_of(to) if row["kind"] == "test" and "2" in row["item"]]
    assert of_u2
    assert [result for result in of_u2 if "passed" in result] == []


def test_a_certificate_that_came_later_stands_with_the_delivery(tmp_path: Path) -> None:
    db, to = tmp_path / "works.db", tmp_path / "record.csv"
    works = Works(str(db), plan=PLAN)
    received = works.bar("BAR-A", 10)
    works.amend(received, certificate="3.1")
    lotkin("report", "record", "--to", to, "--db", db)
    made = next(row for row in rows_of(to) if row["item"] == "BAR-A" and row["did"] == "made")
    assert made["certificate"] == "3.1"
