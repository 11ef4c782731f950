"""Taking over what a works has kept: all of it or nothing, and once."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from lotkin.core.errors import BadEvent, BadFile, BadTables, Circle
from lotkin.core.genealogy.items import Link
from lotkin.core.values.kinds import Mixing
from lotkin.uses.exchange.import_tables import import_tables
from tests.laws import check_conserved, check_records
from tests.small_works import Works, dump
from tests.uses.exchange.two_tables import AT, Tables, items_in

ITEMS = (
    "S-1,,SCREW,100,pcs,2026-03-01\n"
    "M-1,,MOTOR,1,pcs,2026-03-01\n"
    "U-1,unit,PUMP,1,pcs,2026-03-02T10:00:00+01:00\n"
)
LINKS = "S-1,U-1,6,,,6\nM-1,U-1,1,motor,,\n"


@pytest.fixture
def tables(tmp_path: Path) -> Tables:
    return Tables(tmp_path)


@pytest.fixture
def works() -> Works:
    return Works()


def refusal(tables: Tables, works: Works, *, dry_run: bool = False) -> list[str]:
    """Try to import and give the bad rows; nothing may have been recorded."""
    before = dump(works.store)
    with pytest.raises(BadTables) as caught:
        tables.take_over(works, dry_run=dry_run)
    assert dump(works.store) == before
    return list(caught.value.problems)


def test_items_and_links_are_taken_over(tables: Tables, works: Works) -> None:
    tables.write(ITEMS, LINKS)
    report = tables.take_over(works)
    assert (report.items, report.links, len(report.events)) == (3, 2, 2)
    assert not report.repeated
    made = int(datetime(2026, 3, 2, 9, tzinfo=UTC).timestamp()) * 1_000_000
    assert items_in(works)["U-1"] == ("unit", "PUMP", 1_000_000, "pcs", made)
    with works.store.reading() as view:
        assert list(view.parents("U-1")) == [
            Link("S-1", "U-1", 1, Mixing.EACH, 6_000_000, 6_000_000, "", 2),
            Link("M-1", "U-1", 2, Mixing.EACH, 1_000_000, 1_000_000, "", 2),
        ]
        assert view.entry(1).by == "ANN"
        assert view.entry(1).at == int(AT.timestamp()) * 1_000_000
    assert works.stock("S-1") == {"imported": 94, "used in": 6}
    assert list(works.used("S-1")) == ["U-1"]
    check_records(works)
    check_conserved(works)


def test_a_dry_run_checks_and_records_nothing(tables: Tables, works: Works) -> None:
    before = dump(works.store)
    tables.write(ITEMS, LINKS)
    report = tables.take_over(works, dry_run=True)
    assert (report.items, report.links, report.events) == (3, 2, ())
    assert dump(works.store) == before
    tables.write(ITEMS, "S-1,U-1,101,,,\n")
    assert refusal(tables, works, dry_run=True) == [
        "links.csv line 2, column quantity: 101 pcs taken from S-1, 100 pcs are left"
    ]


def test_all_bad_rows_are_listed_in_order_and_nothing_is_recorded(
    tables: Tables, works: Works
) -> None:
    works.receive("R-1")
    tables.write(
        "R-1,,,,,\nS-1,,,1,,\nX 1,,,,,\nT-1,bolt,,,,\n",
        "S-1,T-1,2,,,\nS-1,T-1,x,,,\nS-1,R-1,,,,\nS-1,Y-1,,,,\n",
    )
    assert refusal(tables, works) == [
        "items.csv line 2, column code: R-1 is recorded already",
        (
            "items.csv line 4, column code: "
            "X 1 is no code: 1 to 80 printable ASCII characters without spaces"
        ),
        refusal(tables, works)[2],
        "links.csv line 2, column quantity: 2 pcs taken from S-1, 1 pcs are left",
        "links.csv line 3, column quantity: x is not a number",
        "links.csv line 5, column child: Y-1 is neither in items.csv nor recorded",
    ]
    assert refusal(tables, works)[2].startswith("items.csv line 5, column kind: bolt is no kind")
    with pytest.raises(BadTables) as caught:
        tables.take_over(works)
    assert caught.value.message == "items.csv, links.csv: 6 bad rows, nothing was recorded"


def test_only_the_table_that_is_bad_is_named(tables: Tables, works: Works) -> None:
    tables.write(ITEMS, "S-1,U-1,-1,,,\n")
    with pytest.raises(BadTables) as caught:
        tables.take_over(works)
    assert caught.value.record == "links.csv"


# --- once


def test_the_same_files_again_change_nothing(tables: Tables, works: Works) -> None:
    tables.write(ITEMS, LINKS)
    first = tables.take_over(works)
    before = dump(works.store)
    later = datetime(2026, 6, 1, tzinfo=UTC)
    for dry_run in (False, True):
        again = tables.take_over(works, by="BOB", at=later, dry_run=dry_run)
        assert again.repeated
        assert (again.items, again.links, again.events) == (3, 2, first.events)
    assert dump(works.store) == before


def test_files_that_differ_in_anything_are_other_files(tables: Tables, works: Works) -> None:
    tables.write(ITEMS, LINKS)
    tables.take_over(works)
    tables.write(ITEMS + "\n", LINKS)
    assert refusal(tables, works) == [
        f"items.csv line {line}, column code: {code} is recorded already"
        for line, code in ((2, "S-1"), (3, "M-1"), (4, "U-1"))
    ]


def test_voided_tables_can_be_imported_again(tables: Tables, works: Works) -> None:
    tables.write(ITEMS, LINKS)
    first = tables.take_over(works)
    for event in reversed(first.events):
        works.do("void", event=event, reason="the wrong year")
    assert items_in(works) == {}
    second = tables.take_over(works)
    assert not second.repeated
    assert set(second.events) & set(first.events) == set()
    assert set(items_in(works)) == {"S-1", "M-1", "U-1"}
    assert tables.take_over(works).events == second.events
    check_records(works)


def test_tables_of_which_a_part_was_voided_are_not_taken_for_recorded(
    tables: Tables, works: Works
) -> None:
    tables.write(ITEMS, LINKS)
    first = tables.take_over(works)
    works.do("void", event=first.events[1], reason="links of another works")
    assert len(refusal(tables, works)) == 3


# --- circles


def test_a_circle_is_refused_and_shown(tables: Tables, works: Works) -> None:
    before = dump(works.store)
    tables.write("A,,,,,\nB,,,,,\nC,,,,,\nD,,,,,\n", "D,A,,,,\nA,B,,,,\nB,C,,,,\nC,A,,,,\n")
    for dry_run in (True, False):
        with pytest.raises(Circle) as caught:
            tables.take_over(works, dry_run=dry_run)
        assert caught.value.path == ("A", "B", "C", "A")
        assert caught.value.message == "this would make a circle: A -> B -> C -> A"
    assert dump(works.store) == before


def test_a_circle_among_other_problems_is_listed_with_them(tables: Tables, works: Works) -> None:
    tables.write("A,,,,,\nB,,,,,\n", "A,B,,,,\nB,A,,,,\nA,X,,,,\n")
    assert refusal(tables, works) == [
        "links.csv: this would make a circle: A -> B -> A",
        "links.csv line 4, column child: X is neither in items.csv nor recorded",
    ]


# --- many rows


def test_many_rows_become_several_events_and_no_group_is_torn(tables: Tables, works: Works) -> None:
    tables.write(
        "L,mixed-lot,,,,\n" + "".join(f"P-{n},,,,,\n" for n in range(2_500)),
        "".join(f"P-{n},L,,{'ab'[n % 2]},one-of,\n" for n in range(2_500)),
    )
    report = tables.take_over(works)
    assert (report.items, report.links, len(report.events)) == (2_501, 2_500, 4)
    groups: dict[tuple[int, int], int] = {}
    with works.store.reading() as view:
        for link in view.parents("L"):
            groups[link.event, link.group] = groups.get((link.event, link.group), 0) + 1
        sizes = [len(view.made_by(seq)) for seq in (1, 2)]
    assert groups == {(3, 1): 1_250, (4, 2): 1_250}
    assert sizes == [2_000, 501]


def test_empty_tables_record_nothing(tables: Tables, works: Works) -> None:
    tables.write("", "")
    assert tables.take_over(works).events == ()
    assert works.head() == 0


# --- links to what is recorded


def test_links_may_follow_their_items_in_a_later_import(
    tables: Tables, works: Works, tmp_path: Path
) -> None:
    tables.write(ITEMS)
    tables.links_path.unlink()
    tables.take_over(works)
    tables.write("", LINKS)
    tables.items_path.unlink()
    assert tables.take_over(works).links == 2
    assert works.stock("S-1") == {"imported": 94, "used in": 6}
    check_records(works)


def test_an_item_that_something_is_made_of_takes_no_parents(tables: Tables, works: Works) -> None:
    tables.write("A,,,,,\nB,,,,,\nC,,,,,\n", "B,C,,,,\n")
    tables.take_over(works)
    tables.items_path.unlink()
    tables.links_path.write_text("parent,child,quantity\nA,B,\n")
    assert refusal(tables, works) == [
        "links.csv line 2, column child: B is recorded already; amend its event instead"
    ]


def test_what_an_event_made_is_left_to_the_event(tables: Tables, works: Works) -> None:
    works.receive("R-1")
    tables.write("A,,,,,\nB,,,,,\n", "A,R-1,,,,\nR-1,B,,,,\nB,X,,,,\n")
    assert refusal(tables, works) == [
        "links.csv line 2, column child: R-1 is recorded already; amend its event instead",
        "links.csv line 4, column child: X is neither in items.csv nor recorded",
    ]


def test_new_items_draw_on_what_was_imported_before(tables: Tables, works: Works) -> None:
    tables.write(ITEMS, LINKS)
    tables.take_over(works)
    tables.write("U-2,unit,,1,,\nU-3,unit,,1,,\n", "S-1,U-2,90,,,\nS-1,U-3,5,,,\n")
    assert refusal(tables, works) == [
        (
            "links.csv line 3, column quantity: 5 pcs taken from S-1, "
            "4 pcs are left of what was imported"
        )
    ]
    tables.write("U-2,unit,,1,,\nU-3,unit,,1,,\n", "S-1,U-2,90,,,\nS-1,U-3,4,,,\n")
    tables.take_over(works)
    assert works.stock("S-1") == {"used in": 100}


def test_what_was_received_is_used_by_events_and_not_by_tables(
    tables: Tables, works: Works
) -> None:
    """An import takes from the place `imported` only; elsewhere pieces are counted."""
    works.receive("R-1", 100)
    tables.write("B,,,,,\n", "R-1,B,1,,,\n")
    assert refusal(tables, works) == [
        (
            "links.csv line 2, column quantity: 1 pcs taken from R-1, "
            "0 pcs are left of what was imported"
        )
    ]


# --- files


def test_without_a_table_of_items_codes_are_sought_in_the_store(
    tables: Tables, works: Works
) -> None:
    tables.links_path.write_text("parent,child,quantity\nA,B,\n")
    assert refusal(tables, works) == [
        "links.csv line 2, column parent: A is not recorded",
        "links.csv line 2, column child: B is not recorded",
    ]


def test_files_of_the_same_name_are_told_apart(tmp_path: Path, works: Works) -> None:
    items, links = tmp_path / "one" / "t.csv", tmp_path / "two" / "t.csv"
    for path, text in (
        (items, "code,kind,part,quantity,unit,made_at\nA 1,,,,,\n"),
        (links, "parent,child,quantity\nB,,\n"),
    ):
        path.parent.mkdir()
        path.write_text(text)
    with pytest.raises(BadTables) as caught:
        import_tables(works.store, items, links, by="ANN", at=AT, dry_run=True, clock=works.clock)
    assert [problem.partition(" line")[0] for problem in caught.value.problems] == [
        str(items),
        str(links),
    ]


@pytest.mark.parametrize("name", ["", "missing.csv"])
def test_a_file_that_cannot_be_read_is_told(tmp_path: Path, works: Works, name: str) -> None:
    path = tmp_path / name
    with pytest.raises(BadFile, match="cannot be read: ") as caught:
        import_tables(works.store, path, None, by="ANN", at=AT, dry_run=False, clock=works.clock)
    assert caught.value.record == str(path)


def test_somebody_who_is_no_code_imports_nothing(tables: Tables, works: Works) -> None:
    tables.write(ITEMS, LINKS)
    before = dump(works.store)
    with pytest.raises(BadEvent, match="import: by: "):
        tables.take_over(works, by="not a code")
    assert dump(works.store) == before


HOSTILE = {
    "bytes": bytes(range(256)) * 40,
    "zeros": b"\0" * 200_000,
    "utf-16": "code,kind,part,quantity,unit,made_at\nA,,,,,\n".encode("utf-16"),
    "one endless line": b"code,kind" * 50_000,
    "quotes": b'"' * 70_000 + b"\n" + b'"\n' * 100,
    "a picture": b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR",
    "a packed workbook": b"PK\x03\x04\x14\0\x06\0\x08\0\0\0!\0",
    "a page": b"<!DOCTYPE html>\n<html><body>code,kind</body></html>\n",
    "cells of NUL": b"code,kind,part,quantity,unit,made_at\n" + b"\0,\0,\0,\0,\0,\0\n" * 9,
    "a huge cell": b"code,kind,part,quantity,unit,made_at\nA,," + b"9" * 3_000_000 + b",,,\n",
    "huge numbers": b"code,kind,part,quantity,unit,made_at\nA,,," + b"9" * 60_000 + b",,\n",
    "a deep exponent": b"code,kind,part,quantity,unit,made_at\nA,,,1e999999999,kg,\n",
    "no line end": b"code,kind,part,quantity,unit,made_at\nA,,,",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_file_is_a_list_of_problems_and_no_crash(
    tables: Tables, works: Works, name: str
) -> None:
    tables.write(HOSTILE[name], LINKS)
    problems = refusal(tables, works)
    assert problems[0].startswith("items.csv line ")
    assert all(problem.isprintable() and len(problem) < 400 for problem in problems)
    tables.write(ITEMS, HOSTILE[name])
    assert refusal(tables, works)[0].startswith("links.csv line 1")


def test_ten_thousand_bad_rows_are_all_listed(tables: Tables, works: Works) -> None:
    tables.write("".join(f"A-{n},,,-1,,\n" for n in range(10_000)))
    assert len(refusal(tables, works)) == 10_000
