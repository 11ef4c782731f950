"""A shop's own spreadsheet: mapped, checked with every fault named by its cell, taken over."""

from __future__ import annotations

import datetime as dt
import random
import zipfile
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

import pytest
import xlsxwriter  # type: ignore[import-untyped]

from lotkin.core.errors import BadFile, BadTables, Circle
from lotkin.core.plain_tables.workbook_mapping import propose, read_mapping
from lotkin.core.values.instants import from_us
from lotkin.uses.asking.where import where_from
from lotkin.uses.exchange.import_workbook import import_workbook
from lotkin.wiring.workbooks import read_workbook
from tests.cli.command import lotkin
from tests.small_works import Works, minute
from tests.stores import fresh_store

if TYPE_CHECKING:
    from pathlib import Path

    from lotkin.store.store import Store
    from lotkin.uses.exchange.import_workbook import WorkbookReport

ZURICH = ZoneInfo("Europe/Zurich")


def local(*parts: int) -> dt.datetime:
    """Give a moment as a spreadsheet keeps it: without a zone."""
    return dt.datetime(*parts)  # type: ignore[arg-type]  # noqa: DTZ001


MAPPING = """
spaces = "-"

[[items]]
sheet = "Lots"
header = 2
code = "Lot no."
kind = "Type"
part = "Drawing"
quantity = "Qty"
unit = "Unit"
made_at = "Date"
date_format = "%d.%m.%Y"

[[items]]
sheet = "Units"
code = "Serial"
kind = {value = "unit"}
part = {value = "VALVE"}
quantity = {value = "1"}
made_at = "Built"

[[links]]
sheet = "Lots"
header = 2
parent = "Made from"
child = "Lot no."
quantity = "Used"
split = ";"

[[links]]
sheet = "Units"
parent = "Body lot"
child = "Serial"
quantity = {value = "1"}

[words.kind]
Bar = "bar-lot"
Turned = "machined-lot"
Melt = "heat"

[words.unit]
Stk = "pcs"
"""

LOTS: list[list[Any]] = [
    ["Lots of the works", None],
    ["Lot no.", "Type", "Drawing", "Qty", "Unit", "Date", "Made from", "Used", "Remark"],
    ["H 4711", "Melt", None, None, None, None, None, None, "from the mill"],
    ["H 4712", "Melt"],
    ["BAR 1", "Bar", "BAR-8", 30.0, "m", dt.date(2025, 11, 3), "H 4711;H 4712", None, None],
    ["T 1", "Turned", "BODY", 100, "Stk", "05.11.2025", "BAR 1", 4.25, None],
    [None, None, None, None],
    ["T 1", "Turned", "BODY", 100, "Stk", "05.11.2025", None, None, "again"],
]
UNITS: list[list[Any]] = [
    ["Serial", "Body lot", "Built"],
    [1001, "T 1", local(2025, 11, 10, 14, 30)],
    [1002, "T 1", local(2025, 11, 10, 15, 0)],
]


def workbook(path: Path, **sheets: list[list[Any]]) -> Path:
    book = xlsxwriter.Workbook(str(path), {"default_date_format": "dd.mm.yyyy"})
    for name, rows in sheets.items():
        sheet = book.add_worksheet(name)
        for number, row in enumerate(rows):
            for column, value in enumerate(row):
                if value is not None:
                    sheet.write(number, column, value)
    book.close()
    return path


def taken_over(
    store: Store, path: Path, mapping: str = MAPPING, *, dry_run: bool = False
) -> WorkbookReport:
    who = ("ANN", from_us(minute(9000)), lambda: minute(9000))
    sheets = read_workbook(path, ZURICH)
    return import_workbook(store, sheets, read_mapping(mapping, "map"), who, dry_run=dry_run)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return workbook(tmp_path / "works.xlsx", Lots=LOTS, Units=UNITS)


def test_a_spreadsheet_is_taken_over_as_it_is_mapped(book: Path) -> None:
    store = fresh_store()
    done = taken_over(store, book)
    assert (done.tables.items, done.tables.links) == (6, 5)
    assert done.kinds == {"bar-lot": 1, "heat": 2, "machined-lot": 1, "unit": 2}
    with store.reading() as view:
        items = {item.code: item for item in view.all_items()}
        links = {(link.parent, link.child): link.quantity for link in view.all_links()}
    assert set(items) == {"H-4711", "H-4712", "BAR-1", "T-1", "1001", "1002"}
    assert (items["T-1"].quantity, items["T-1"].unit, items["T-1"].part) == (
        100_000_000,
        "pcs",
        "BODY",
    )
    built = dt.datetime(2025, 11, 10, 14, 30, tzinfo=ZURICH)
    assert items["1001"].made_at == int(built.timestamp() * 1e6)
    assert links["BAR-1", "T-1"] == 4_250_000
    behind = {row.code for row in where_from(store, "1001").items}
    assert behind == {"T-1", "BAR-1", "H-4711", "H-4712"}


def test_a_dry_run_tells_what_would_be_and_records_nothing(book: Path) -> None:
    store = fresh_store()
    assert taken_over(store, book, dry_run=True).kinds["unit"] == 2
    with store.reading() as view:
        assert view.journal_head()[0] == 0


def test_the_same_spreadsheet_is_taken_over_once(book: Path) -> None:
    store = fresh_store()
    taken_over(store, book)
    assert taken_over(store, book).tables.repeated


def test_every_fault_is_told_with_sheet_row_and_column(tmp_path: Path) -> None:
    lots = [*LOTS[:5], ["T 1", "Turnt", "BODY", -3, "Stk", "31.02.2025", "BAR 9", "much"]]
    units = [*UNITS, [None, "T 1"], [1003, "T 7"], [1001, "T 1", local(2025, 1, 1)]]
    path = workbook(tmp_path / "bad.xlsx", Lots=lots, Units=units)
    with pytest.raises(BadTables) as caught:
        taken_over(fresh_store(), path)
    assert caught.value.problems == (
        "Lots row 6, column Date: 31.02.2025 is no day as %d.%m.%Y has it",
    )
    lots[5][5] = None
    path = workbook(tmp_path / "bad2.xlsx", Lots=lots, Units=units)
    with pytest.raises(BadTables) as caught:
        taken_over(fresh_store(), path)
    said = "\n".join(caught.value.problems)
    for place in (
        "Lots row 6, column Type: ",
        "Lots row 6, column Qty: ",
        "Lots row 6, column Used: ",
        "Units row 5, column Body lot: ",
        "Units row 6, column Serial: 1001 stands on row 2 already",
    ):
        assert place in said, said


def test_a_circle_is_told(tmp_path: Path) -> None:
    lots = [
        *LOTS[:2],
        ["A", "Bar", "P", 1, "m", None, "B", 1],
        ["B", "Bar", "P", 1, "m", None, "A", 1],
    ]
    path = workbook(tmp_path / "circle.xlsx", Lots=lots, Units=UNITS[:1])
    with pytest.raises((Circle, BadTables)):
        taken_over(fresh_store(), path)


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        ('sheet = "Units"', 'sheet = "Unit"', "no such sheet"),
        ('code = "Lot no."', 'code = "Lot"', "no column Lot"),
        ("header = 2", "header = 40", "no column"),
        ("header = 2", "header = 0", "greater than or equal"),
        ('code = "Serial"', 'code = "Serial"\ncoda = "x"', "coda"),
        ('spaces = "-"', "spaces = [", "no TOML"),
    ],
)
def test_a_mapping_that_does_not_fit_is_told(book: Path, old: str, new: str, why: str) -> None:
    with pytest.raises(BadFile, match=why):
        taken_over(fresh_store(), book, MAPPING.replace(old, new))


def test_a_mapping_of_nothing_and_columns_that_stand_twice_are_told(tmp_path: Path) -> None:
    with pytest.raises(BadFile, match="neither"):
        read_mapping("", "map")
    path = workbook(tmp_path / "twice.xlsx", Sheet=[["Lot", "Lot"], ["A", "B"]])
    with pytest.raises(BadFile, match="several columns"):
        taken_over(fresh_store(), path, '[[items]]\ncode = "Lot"\n')


def test_a_proposal_maps_what_it_understands_and_can_be_used_as_it_is(tmp_path: Path) -> None:
    rows: list[list[Any]] = [
        ["Los-Nr.", "Artikel", "Menge", "Einheit", "Datum", "Aus Los", "Bemerkung"],
        ["L-1", "STAB", 30, "m", dt.date(2025, 1, 2), None, "x"],
        ["L-2", "KOPF", 100, "pcs", dt.date(2025, 1, 3), "L-1", None],
    ]
    path = workbook(tmp_path / "lots.xlsx", Lager=rows)
    text = propose(read_workbook(path, dt.UTC, 20))
    assert 'part = "Artikel"' in text
    assert '# not used of "Lager": "Bemerkung"' in text
    done = taken_over(fresh_store(), path, text)
    assert (done.tables.items, done.tables.links) == (2, 1)


def test_an_empty_workbook_is_no_crash(tmp_path: Path) -> None:
    path = workbook(tmp_path / "empty.xlsx", Sheet=[])
    assert "[words.kind]" in propose(read_workbook(path, dt.UTC, 20))
    with pytest.raises(BadFile, match="no column"):
        taken_over(fresh_store(), path, '[[items]]\ncode = "Lot"\n')


def test_files_that_are_no_workbooks_are_refused(tmp_path: Path, book: Path) -> None:
    whole = book.read_bytes()
    dice = random.Random(1)
    hostile = [b"", b"no zip", b"\xd0\xcf\x11\xe0" + bytes(600), whole[: len(whole) // 2]]
    for _ in range(60):
        changed = bytearray(whole)
        changed[dice.randrange(len(changed))] ^= 0xFF
        hostile.append(bytes(changed))
    for content in hostile:
        (tmp_path / "x.xlsx").write_bytes(content)
        try:
            read_workbook(tmp_path / "x.xlsx", dt.UTC)
        except BadFile:
            continue
    for path in (tmp_path, tmp_path / "nowhere.xlsx"):
        with pytest.raises(BadFile):
            read_workbook(path, dt.UTC)


def test_a_bomb_is_not_unpacked(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "bomb.xlsx", "w", zipfile.ZIP_DEFLATED) as bomb:
        for number in range(11):
            bomb.writestr(f"xl/worksheets/sheet{number}.xml", bytes(100_000_000))
    with pytest.raises(BadFile, match="too large"):
        read_workbook(tmp_path / "bomb.xlsx", dt.UTC)


ENTITIES = """<?xml version="1.0"?>
<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>
<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>&b;</t></si></sst>
"""


def test_entities_are_not_expanded(tmp_path: Path, book: Path) -> None:
    with zipfile.ZipFile(book) as old, zipfile.ZipFile(tmp_path / "x.xlsx", "w") as new:
        for name in old.namelist():
            content = old.read(name)
            new.writestr(name, ENTITIES if name.endswith("sharedStrings.xml") else content)
    with pytest.raises(BadFile):
        read_workbook(tmp_path / "x.xlsx", dt.UTC)


def test_ten_thousand_rows_are_taken_over(tmp_path: Path) -> None:
    units: list[list[Any]] = [["Serial", "Lot"], *([f"U-{n}", "L-1"] for n in range(10_000))]
    path = workbook(tmp_path / "large.xlsx", Units=units, Lots=[["Lot", "Qty"], ["L-1", 20_000]])
    mapping = """
    [[items]]
    sheet = "Lots"
    code = "Lot"
    quantity = "Qty"
    [[items]]
    sheet = "Units"
    code = "Serial"
    kind = {value = "unit"}
    [[links]]
    sheet = "Units"
    parent = "Lot"
    child = "Serial"
    quantity = {value = "1"}
    """
    store = fresh_store()
    assert taken_over(store, path, mapping).tables.links == 10_000


def test_the_command_proposes_checks_and_takes_over(book: Path, tmp_path: Path) -> None:
    db = tmp_path / "works.db"
    Works(str(db)).store.close()
    proposal = tmp_path / "proposed.toml"
    assert lotkin("import", "--xlsx", book, "--propose", proposal, "--db", db).status == 0
    assert "[[items]]" in proposal.read_text()
    mapping = tmp_path / "map.toml"
    mapping.write_text(MAPPING)
    words = ("import", "--xlsx", book, "--mapping", mapping, "--by", "ANN", "--db", db)
    tried = lotkin(*words, "--dry-run")
    assert tried.out.splitlines()[:2] == [
        "6 items and 5 links can be imported; nothing was recorded",
        "  1 bar-lot",
    ]
    assert lotkin(*words, "--json").document()["kinds"]["unit"] == 2
    mapping.write_text(MAPPING.replace("Bar =", "Rod ="))
    fresh = tmp_path / "fresh.db"
    Works(str(fresh)).store.close()
    bad = lotkin(*words[:-1], fresh, "--json").error()
    assert bad["kind"] == "bad-rows"
    assert bad["problems"][0].startswith("Lots row 5, column Type: ")
    for wrong in (("--xlsx", book), ("--mapping", mapping), ("--xlsx", book, "--items", "x")):
        assert lotkin("import", *wrong, "--db", db).status == 2
