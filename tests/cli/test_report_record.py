"""The whole record as a table for a spreadsheet."""

from __future__ import annotations

import csv
from typing import TYPE_CHECKING

import openpyxl

from lotkin.uses.record_rows import record_rows
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
    assert {row["reference"] for row in shipped} == {"'=PO 7"}, "no formula"
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
