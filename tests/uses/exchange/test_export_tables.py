"""Giving everything away as two tables, and getting the same back."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lotkin.core.errors import BadFile
from lotkin.core.values.kinds import KINDS, Family, Mixing
from lotkin.uses.exchange.export_tables import ExportReport, export_tables
from tests.laws import check_records
from tests.small_works import Works
from tests.uses.exchange.two_tables import Tables, group_structure, items_in


def export(works: Works, tables: Tables) -> ExportReport:
    with works.store.reading() as view:
        return export_tables(view, tables.items_path, tables.links_path)


def rows(path: Path) -> list[list[str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.reader(file))


def check_same_answers(one: Works, other: Works) -> None:
    """Every item of both reaches the same items, up and down."""
    with one.store.reading() as first, other.store.reading() as second:
        codes = [item.code for item in first.all_items()]
        for code in codes:
            for direction in ("down", "up"):
                reached = first.reach([code], direction)
                again = second.reach([code], direction)
                assert set(reached.nodes.code) == set(again.nodes.code)


@pytest.fixture
def tables(tmp_path: Path) -> Tables:
    return Tables(tmp_path)


def test_an_empty_store_makes_two_headers(tables: Tables) -> None:
    assert export(Works(), tables) == ExportReport(0, 0, 0)
    assert tables.items_path.read_bytes() == b"code,kind,part,quantity,unit,made_at\n"
    assert tables.links_path.read_bytes() == b"parent,child,quantity,group,mixing,per\n"


def test_items_and_links_are_written_plainly(tables: Tables) -> None:
    works = Works()
    works.bar("B-1", "2.5", heat="H-1")
    works.make({"T-1": 40}, {"B-1": "2.5"}, run="R-1")
    assert export(works, tables) == ExportReport(4, 3, 0)
    assert rows(tables.items_path)[1:] == [
        ["B-1", "bar-lot", "BAR", "2.5", "m", "2026-03-02T06:01:00Z"],
        ["MILL:H-1", "heat", "", "", "", ""],
        ["R-1", "machining-run", "TIP", "", "", "2026-03-02T06:02:00Z"],
        ["T-1", "machined-lot", "TIP", "40", "pcs", "2026-03-02T06:02:00Z"],
    ]
    assert rows(tables.links_path)[1:] == [
        ["MILL:H-1", "B-1", "", "e1-g1", "each", "1"],
        ["B-1", "T-1", "2.5", "e2-g1", "each", "1"],
        ["R-1", "T-1", "", "e2-g2", "each", "1"],
    ]


def busy_works() -> Works:
    """Make a works in which a little of everything was done."""
    works = Works()
    works.resource("TOOL-1")
    works.bar("B-1", 10, heat="H-1")
    works.bar("B-2", 10, heat="H-2")
    run = {"code": "R-1", "run_kind": "machining-run", "resources": ["TOOL-1"]}
    tips = {"code": "T-1", "item_kind": "machined-lot", "part": "TIP", "quantity": 40}
    inputs = [{"item": code, "quantity": 5} for code in ("B-1", "B-2")]
    works.do("make", station="FLOOR", run=run, inputs=inputs, outputs=[tips])
    works.split("T-1", {"T-1A": 20, "T-1B": 20})
    works.powder("P-1", 10)
    works.powder("P-2", 10)
    works.blend("P-3", ["P-1", "P-2"], part="POWDER")
    works.receive("S-1", 3)
    works.mount({"P1": "T-1A", "P2": {"item": "S-1", "per": 1}})
    works.build("U-1")
    works.build("U-2")
    works.build("U-3")
    works.swap("U-1", [{"item": "T-1A", "position": "P1", "end": "scrap"}])
    works.inspect("T-1B", "I-1")
    works.resource("RIG-1", "gauge")
    works.test("U-3", resources=["RIG-1"])
    works.pack("BOX-1", {"U-2": 1})
    works.ship("SHIP-1", {"BOX-1": 1})
    return works


def test_a_busy_works_comes_back_with_the_same_answers(tmp_path: Path) -> None:
    works, again = busy_works(), Works()
    tables = Tables(tmp_path)
    export(works, tables)
    tables.take_over(again)
    assert items_in(again) == items_in(works)
    assert group_structure(again, quantities=False) == group_structure(works, quantities=False)
    check_same_answers(works, again)
    check_records(again)


def test_what_is_told_twice_keeps_its_first_quantity(tables: Tables) -> None:
    """The second state of a unit repeats the screw that the first one took."""
    works = Works()
    works.receive("S-1", 1)
    works.build("U-1", bench=None, place="SHELF", inputs={"S-1": 1})
    works.swap("U-1")
    assert export(works, tables).quantities_left_out == 1
    told = {(row[0], row[1]): row[2] for row in rows(tables.links_path)[1:]}
    assert told["S-1", "U-1"] == "1"
    assert told["S-1", "U-1/2"] == ""
    tables.take_over(Works())


def test_what_was_used_beyond_the_stock_is_left_open(tables: Tables) -> None:
    works = Works()
    works.receive("S-1", 5)
    works.make({"T-1": 1}, {"S-1": 4})
    works.pack("BOX-1", {"S-1": 1}, reported=True)
    for code, quantity in (("T-2", 3), ("T-3", 1)):
        beyond = {"item": "S-1", "quantity": quantity, "place": "SHELF"}
        works.make({code: 1}, [beyond], reported=True)
    assert export(works, tables).quantities_left_out == 1
    told = {row[1]: row[2] for row in rows(tables.links_path)[1:]}
    assert told == {"BOX-1": "1", "T-1": "4", "T-2": "", "T-3": "1"}
    tables.take_over(Works())


def test_codes_stay_as_they_are(tables: Tables) -> None:
    """A spreadsheet may take some for formulas; a changed code would be another item."""
    codes = ["=1+1", "+A", "-A", "@A", '"Q"', "A,B", "A;B", "'A"]
    works, again = Works(), Works()
    for code in codes:
        works.receive(code, 1)
    export(works, tables)
    tables.take_over(again)
    assert sorted(items_in(again)) == sorted(codes)


def test_a_part_of_several_lines_becomes_one_line(tables: Tables) -> None:
    works = Works()
    works.receive("S-1")
    works.pack("BOX-1", {"S-1": 1}, part="Box\nof\tscrews")
    export(works, tables)
    assert ["BOX-1", "carton", "Box of screws", "1", "pcs", "2026-03-02T06:02:00Z"] in rows(
        tables.items_path
    )


def test_a_file_that_cannot_be_written_leaves_the_other_one_alone(
    tables: Tables, tmp_path: Path
) -> None:
    tables.items_path.write_text("before")
    with Works().store.reading() as view, pytest.raises(BadFile):
        export_tables(view, tmp_path, tables.links_path)
    assert tables.items_path.read_text() == "before"
    assert not tables.links_path.exists()


# --- laws

CODES = [f"{letter}-{number}" for number in range(2) for letter in "ABCDE"]
MATERIAL = st.sampled_from([k for k in KINDS[Family.MATERIAL] if k != "bench-setup"])
AMOUNTS = st.sampled_from(["", "0", "1", "2", "17"])
GROUPS = st.sampled_from(["", "g", "h", "1", "two, or three"])


@st.composite
def plain_tables(draw: st.DrawFn) -> tuple[str, str]:
    """Draw a table of items and one of links without circles that fit each other."""
    count = draw(st.integers(1, len(CODES)))
    items = []
    for n, code in enumerate(CODES[:count]):
        kind = draw(st.one_of(st.just(""), MATERIAL, st.sampled_from(KINDS[Family.RUN])))
        quantity, unit = (
            draw(st.sampled_from(["", "100", "250"])),
            draw(st.sampled_from(["", "kg"])),
        )
        made_at = draw(st.sampled_from(["", f"2026-03-0{n // 3 + 1}"]))
        items.append(f"{code},{kind},P-{n % 2},{quantity},{unit},{made_at}\n")
    ends = st.tuples(st.integers(0, count - 1), st.integers(0, count - 1), GROUPS)
    wanted = draw(st.lists(ends.filter(lambda end: end[0] < end[1]), unique=True, max_size=12))
    mixings: dict[tuple[int, str], Mixing] = {}
    links = []
    for parent, child, group in wanted if count > 1 else []:
        mixing = draw(st.sampled_from(Mixing))
        if group:
            mixing = mixings.setdefault((child, group), mixing)
        amount, per = draw(AMOUNTS), draw(st.sampled_from(["", "1", "6", "0.5"]))
        row = [CODES[parent], CODES[child], amount, f'"{group}"', mixing, per]
        links.append(",".join(row) + "\n")
    return "".join(items), "".join(links)


@given(plain_tables())
@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_what_is_imported_and_exported_is_the_same_again(
    tmp_path: Path, texts: tuple[str, str]
) -> None:
    works, again = Works(), Works()
    tables = Tables(tmp_path)
    tables.write(*texts)
    report = tables.take_over(works)
    exported = export(works, tables)
    assert exported == ExportReport(report.items, report.links, 0)
    assert len(texts[0].splitlines()) == report.items
    assert len(texts[1].splitlines()) == report.links
    tables.take_over(again)
    assert items_in(again) == items_in(works)
    assert group_structure(again) == group_structure(works)
    check_same_answers(works, again)
    check_records(again)
