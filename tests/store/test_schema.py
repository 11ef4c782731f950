"""The plain module of the tables says what the classes say, and is written from them alone."""

from __future__ import annotations

import inspect
from dataclasses import fields
from pathlib import Path

import pytest
from sqlalchemy import BigInteger, Column, MetaData, Table, Text

import schema.__main__
from lotkin.core.genealogy.items import Fact, Item, Link, Movement
from lotkin.core.journal.chain import ChainRow
from lotkin.store import schema as written
from lotkin.store.all_tables import METADATA, RECORD_TABLES
from lotkin.store.record.comparing import DERIVED
from lotkin.store.tables.records import ITEM_COLUMNS, LINK_COLUMNS
from schema.plain_module import plain_module


def test_the_plain_module_is_what_the_classes_say_now(capsys: pytest.CaptureFixture[str]) -> None:
    assert schema.__main__.main(["--check"]) == 0
    assert capsys.readouterr().err == ""


@pytest.fixture
def own_module(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Let the module be written elsewhere, as it is."""
    path = tmp_path / "schema.py"
    path.write_text(Path(str(written.__file__)).read_text("utf-8"), "utf-8")
    monkeypatch.setattr(schema.__main__, "WRITTEN", path)
    return path


def with_one_more_column() -> MetaData:
    described = MetaData()
    for table in METADATA.tables.values():
        table.to_metadata(described)
    described.tables["spot"].append_column(Column("shade", Text, nullable=True))
    return described


@pytest.mark.usefixtures("own_module")
def test_a_class_that_was_changed_without_writing_the_module_is_noticed(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(schema.__main__, "METADATA", with_one_more_column())

    assert schema.__main__.main(["--check"]) == 1
    assert "out of date; run `make schema`" in capsys.readouterr().err


def test_checking_writes_nothing(own_module: Path) -> None:
    own_module.write_text("", "utf-8")

    assert schema.__main__.main(["--check"]) == 1
    assert own_module.read_text("utf-8") == ""


def test_writing_it_anew_makes_the_check_pass(
    own_module: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(schema.__main__, "METADATA", with_one_more_column())

    assert schema.__main__.main([]) == 0
    assert schema.__main__.main(["--check"]) == 0
    assert '"spot": ("id", "place", "within", "shade"),' in own_module.read_text("utf-8")


def test_a_row_has_a_value_for_each_column_by_name_and_none_for_the_running_number() -> None:
    tables = MetaData()
    Table(
        "pallet",
        tables,
        Column("number", BigInteger, primary_key=True),
        Column("code", Text, nullable=False),
        Column("moved_at", BigInteger),
    )

    text = plain_module(tables, ["pallet"])

    assert '"pallet": ("code", "moved_at"),' in text
    assert '"pallet": ("number",),' in text
    assert text.endswith(
        "def pallet_row(*, code: str, moved_at: int | None) -> Row:\n"
        '    """Give a row of `pallet`."""\n'
        "    return (code, moved_at)\n"
    )


@pytest.mark.parametrize("table", [name for name in RECORD_TABLES if not name.endswith("_past")])
def test_the_values_of_a_row_stand_in_the_order_of_its_columns(table: str) -> None:
    row = getattr(written, f"{table}_row")
    values = {name: object() for name in inspect.signature(row).parameters}

    assert row(**values) == tuple(values[name] for name in written.COLUMNS[table])


def test_past_rows_have_the_columns_of_the_living_ones_and_when_they_ended() -> None:
    past = [name for name in RECORD_TABLES if name.endswith("_past")]

    assert past
    for name in past:
        living = written.COLUMNS[name.removesuffix("_past")]
        assert set(written.COLUMNS[name]) == {*living, "until"}, name


def test_what_the_core_knows_of_a_thing_has_a_column_each() -> None:
    """Reading names the fields of the core's own records; no column is left behind."""
    of = {name: set(columns) for name, columns in written.COLUMNS.items()}

    assert of["item"] == {"id", "since", *ITEM_COLUMNS} == {"id", "since"} | names_of(Item)
    assert of["link"] == {"parent", "child", "since", *LINK_COLUMNS}
    assert len(LINK_COLUMNS) + 2 == len(Link._fields)
    assert of["movement"] == {"since", *Movement._fields}
    assert of["fact"] == {"since"} | names_of(Fact)
    assert of["journal"] == set(ChainRow._fields)


def names_of(kind: type[Item | Fact]) -> set[str]:
    return {field.name for field in fields(kind)}


def test_each_table_of_the_record_is_derived_or_is_known_not_to_be() -> None:
    """What is derived is compared with what follows from the journal; nothing may be left out."""
    not_derived = {
        "journal",  # what all else follows from
        "meta",  # notes the end of the journal
        "graph_change",  # tells copies of the graph where they are old
    }

    assert set(DERIVED) | not_derived == set(RECORD_TABLES)
    assert set(DERIVED).isdisjoint(not_derived)
