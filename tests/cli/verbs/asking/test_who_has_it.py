"""Who has what is suspect, as commands and reports tell it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import openpyxl
import pytest

from tests.cli.command import lotkin
from tests.labels.rendering import text_of
from tests.small_works import PLAN, Works

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def db(tmp_path: Path) -> Path:
    """Give where a store is to be."""
    return tmp_path / "works.db"


def shipped_to_newcust(db: Path, plan: str = PLAN) -> None:
    works = Works(str(db), plan=plan)
    works.receive("S1", 5)
    works.ship("SHIP-1", "S1", customer="NEWCUST", reported=True, reference="PO 12")
    works.do("open-case", case="CASE-7", subjects=["S1"], reason="threads are soft")
    works.store.close()


def section(text: str, title: str) -> str:
    """Give what stands under a heading, the heading included; "" if there is no such."""
    found = [part for part in text.split("\n\n") if part.startswith(title)]
    return "\n\n".join(found)


@pytest.mark.parametrize("plan", [PLAN, ""], ids=["with a plan", "without a plan"])
def test_a_customer_that_only_a_shipment_names_is_told_and_written_to(
    db: Path, tmp_path: Path, plan: str
) -> None:
    shipped_to_newcust(db, plan)
    shown = lotkin("contain", "S1", "--db", db).out
    assert "NEWCUST" in section(shown, "At customers: 1 place")
    assert "NEWCUST" not in section(shown, "In the works and at suppliers: nothing")
    document = lotkin("contain", "S1", "--json", "--db", db).document()
    assert [each["customer"] for each in document["customers"]] == ["NEWCUST"]
    assert document["places"] == document["unknown_places"] == []

    paper = tmp_path / "notices.pdf"
    assert lotkin("report", "customers", "S1", "--to", paper, "--db", db).status == 0
    (page,) = text_of(paper.read_bytes())
    assert "What NEWCUST has" in page


def test_notices_for_a_case_carry_its_number_and_its_reason(db: Path, tmp_path: Path) -> None:
    shipped_to_newcust(db)
    paper, table = tmp_path / "notices.pdf", tmp_path / "customers.csv"
    answer = lotkin("report", "customers", "CASE-7", "--to", paper, "--db", db)
    assert (answer.status, answer.err) == (0, "")
    (page,) = text_of(paper.read_bytes())
    assert "our case CASE-7" in page
    assert "reason threads are soft" in page
    assert lotkin("report", "customers", "CASE-7", "--to", table, "--db", db).status == 0
    assert "NEWCUST,,,S1" in table.read_text(encoding="utf-8")

    again = ("report", "customers", "CASE-7", "--to", paper, "--reason", "other words", "--db", db)
    assert lotkin(*again).status == 0
    assert "reason other words" in text_of(paper.read_bytes())[0]


def test_a_letter_says_what_is_affected_and_neither_a_share_nor_whose_decision_it_is(
    db: Path, tmp_path: Path
) -> None:
    """Words that make a risk sound smaller have no place in a recall notice.

    Source: Regulation (EU) 2023/988, Article 36 (3), for consumers; the same manner is kept here.
    """
    works = Works(str(db), plan=PLAN)
    works.receive("BAD", 50)
    works.receive("GOOD", 50)
    works.pool("MIX", {"BAD": 50, "GOOD": 50})
    works.ship("SHIP-1", {"MIX": 10})
    works.store.close()
    paper = tmp_path / "notices.pdf"
    lotkin("report", "customers", "BAD", "--to", paper, "--db", db)
    (page,) = text_of(paper.read_bytes())
    assert "possibly affected, to be treated as affected" in page
    for word in ("%", "certain", "licensed", "responsible persons"):
        assert word not in page


def unknown_place(db: Path) -> None:
    """Have five screws at a place that no plan says anything of."""
    works = Works(str(db))
    works.receive("S1", 5, place="EXPO")
    works.store.close()


def test_nothing_at_customers_is_never_said_where_a_place_is_not_known(
    db: Path, tmp_path: Path
) -> None:
    unknown_place(db)
    shown = lotkin("contain", "S1", "--db", db).out
    assert "At customers: nothing" not in shown
    assert (
        "At customers: no customer is known to have any; 1 lot at a place of unknown kind: EXPO"
        in shown
    )
    assert "EXPO" in section(shown, "At places of unknown kind: 1 place")
    assert (
        section(shown, "In the works and at suppliers") == "In the works and at suppliers: nothing"
    )

    paper, book, notices = tmp_path / "a.pdf", tmp_path / "a.xlsx", tmp_path / "b.pdf"
    lotkin("report", "contain", "S1", "--to", paper, "--db", db)
    text = " ".join(" ".join(text_of(paper.read_bytes())).split())
    assert "At customers Nothing" not in text
    assert "1 lot at a place of unknown kind: EXPO" in text
    lotkin("report", "contain", "S1", "--to", book, "--db", db)
    sheets = openpyxl.load_workbook(book)
    kinds = [row[17] for row in sheets["members"].iter_rows(min_row=2, values_only=True)]
    assert kinds == ["unknown"]
    refused = lotkin("report", "customers", "S1", "--to", notices, "--db", db)
    assert refused.status == 3
    assert "1 lot at a place of unknown kind: EXPO" in refused.err
    drilled = lotkin("drill", "S1", "--by", "ANN", "--db", db).out
    assert "customers    not known whether places are: EXPO 1" in drilled
    compared = lotkin("case", "compare", "S1", "--db", db)
    assert "where not known" in compared.out


def test_nothing_at_customers_is_said_where_every_place_is_known(db: Path) -> None:
    works = Works(str(db), plan=PLAN)
    works.receive("S1", 5)
    works.store.close()
    assert "At customers: nothing\n" in lotkin("contain", "S1", "--db", db).out


def test_nothing_is_never_said_of_customers_where_only_some_kinds_were_asked_for(db: Path) -> None:
    works = Works(str(db), plan=PLAN)
    works.bar("BAR-A", 10)
    works.make({"TIP-1": 10}, {"BAR-A": 5}, run="RUN-1")
    works.ship("SHIP-1", {"TIP-1": 4})
    works.store.close()
    shown = lotkin("contain", "BAR-A", "--family", "run", "--db", db).out
    assert "At customers: nothing of these kinds\n" in shown


def test_a_notice_is_written_to_no_customer_whose_pieces_have_all_come_back(
    db: Path, tmp_path: Path
) -> None:
    works = Works(str(db), plan=PLAN)
    works.receive("BAD", 5)
    works.receive("GOOD", 5)
    works.pack("C1", ["BAD", "GOOD"])
    works.ship("SHIP-1", "C1")
    works.do("return", item="BAD", to_place="RED-BOX", reason="cracks")
    works.store.close()
    paper = tmp_path / "notices.pdf"
    assert lotkin("report", "customers", "BAD", "--to", paper, "--db", db).status == 3
    assert "At customers: nothing\n" in lotkin("contain", "BAD", "--db", db).out
    assert lotkin("contain", "BAD", "--json", "--db", db).document()["customers"] == []


def exported_and_imported(tmp_path: Path) -> Path:
    """Send a store of a shipped, tested unit to a store without a plan."""
    there, here = tmp_path / "there.db", tmp_path / "here.db"
    works = Works(str(there), plan=PLAN)
    works.bar("BAR-A", 10, heat="H48", certificate="3.1")
    works.make({"TIP-1": 100}, {"BAR-A": 5}, run="RUN-1")
    works.receive("SCREWS-1", 100)
    works.mount({"P1": {"item": "TIP-1", "origin": "FLOOR"}, "P2": "SCREWS-1"})
    works.build("PUMP-1")
    works.test("PUMP-1")
    works.pack("C-1", "PUMP-1")
    works.ship("SHIP-1", "C-1", reference="PO 7")
    works.store.close()
    document = tmp_path / "all.json"
    assert lotkin("export", "--format", "epcis", "--to", document, "--db", there).status == 0
    assert lotkin("init", "--db", here).status == 0
    done = lotkin("import", "--epcis", document, "--db", here)
    assert done.status == 0
    assert "not taken over, by field and number of events: " in done.out
    assert "sensorElementList 1" in done.out
    return here


def test_after_an_import_of_events_customers_still_have_what_was_shipped(tmp_path: Path) -> None:
    here = exported_and_imported(tmp_path)
    shown = lotkin("contain", "BAR-A", "--db", here).out
    assert "CLINIC" in section(shown, "At customers: 1 unit, 1 place")
    assert "At customers: nothing" not in shown
    assert "In the works and at suppliers: nothing" in shown
    assert "SHELF" in section(shown, "At places of unknown kind")
    table = tmp_path / "customers.csv"
    assert lotkin("report", "customers", "BAR-A", "--to", table, "--db", here).status == 0
    assert "C-1,SHIP-1," in table.read_text(encoding="utf-8")


def test_what_an_import_did_not_bring_along_is_never_told_as_absent(tmp_path: Path) -> None:
    here = exported_and_imported(tmp_path)
    shown = lotkin("complaint", "PUMP-1", "--db", here).out
    assert "tests and inspections are not part of what was imported" in shown
    assert "certificates and documents are not part of what was imported" in shown
    for negative in ("no test of it is recorded", "none came with it", "no packing"):
        assert negative not in shown
    document = lotkin("complaint", "PUMP-1", "--json", "--db", here).document()
    assert (document["unit_imported"], document["material_imported"]) == (True, True)
    paper = tmp_path / "unit.pdf"
    lotkin("report", "unit", "PUMP-1", "--to", paper, "--db", here)
    text = " ".join(text_of(paper.read_bytes()))
    assert "Nothing is recorded." not in text
    assert "Tests and inspections are not part of what was imported." in text
    for negative in ("No test of it is recorded", "No inspection of it", "No packing"):
        assert negative not in text


def test_what_is_absent_here_is_told_as_absent(db: Path) -> None:
    works = Works(str(db), plan=PLAN)
    works.receive("SCREWS", 100)
    works.build("PUMP-1", bench=None, place="FLOOR", inputs={"SCREWS": 2}, reported=True)
    works.store.close()
    shown = lotkin("complaint", "PUMP-1", "--db", db).out
    assert "no test of it is recorded" in shown
    assert "not part of what was imported" not in shown


def test_after_an_import_of_tables_nothing_is_said_of_customers(tmp_path: Path) -> None:
    db, items, links = tmp_path / "t.db", tmp_path / "items.csv", tmp_path / "links.csv"
    items.write_text(
        "code,kind,part,quantity,unit,made_at\nLOT,purchased-lot,P,10,pcs,\nU1,unit,Q,1,pcs,\n"
    )
    links.write_text("parent,child,quantity\nLOT,U1,2\n")
    assert lotkin("init", "--db", db).status == 0
    assert lotkin("import", "--items", items, "--links", links, "--db", db).status == 0
    shown = lotkin("contain", "LOT", "--db", db).out
    assert "At customers: nothing" not in shown
    assert "imported" in section(shown, "At places of unknown kind: 1 unit, 1 place")
    assert "In the works and at suppliers: nothing" in shown
