"""EPCIS documents by the command: what is said, and which options go together."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from tests.cli.command import lotkin
from tests.small_works import Works
from tests.uses.exchange.epcis.epcis_partner import ROD, Partner, quantity

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def db(tmp_path: Path) -> Path:
    path = tmp_path / "works.db"
    works = Works(str(path))
    works.bar("B-1", 2, heat="H-1")
    made = works.make({"T-1": 30}, {"B-1": 1}, run="R-1")
    works.amend(made, note="looked at again")
    works.do("open-case", case="CASE-1", subjects=["T-1"], reason="burrs")
    return path


def test_a_store_goes_through_a_document(db: Path, tmp_path: Path) -> None:
    to, there = tmp_path / "all.json", tmp_path / "there.db"
    lotkin("init", "--db", there)
    given = lotkin("export", "--format", "epcis", "--to", to, "--db", db)
    taken = lotkin("import", "--epcis", to, "--by", "ANN", "--db", there)
    again = lotkin("import", "--epcis", to, "--by", "BEN", "--db", there)

    assert given.out.splitlines() == [
        "wrote 4 EPCIS events",
        "1 of them declared to be in error, because corrected since",
    ]
    assert taken.out.splitlines() == [
        "4 EPCIS events: 2 new, with 4 items and 3 links",
        (
            "not taken over, by field and number of events: bizTransactionList 1, lotkin:event 3, "
            "lotkin:kind 3, lotkin:reading 1"
        ),
    ]
    assert again.out.splitlines() == [
        "4 EPCIS events: 0 new, with 0 items and 0 links",
        "2 were imported before",
        (
            "not taken over, by field and number of events: bizTransactionList 1, lotkin:event 3, "
            "lotkin:kind 3, lotkin:reading 1"
        ),
    ]
    answer = lotkin("where-from", "T-1", "--quiet", "--db", there)
    assert answer.out == lotkin("where-from", "T-1", "--quiet", "--db", db).out


def test_a_trial_is_told_as_one(db: Path, tmp_path: Path) -> None:
    to, there = tmp_path / "case.json", tmp_path / "there.db"
    lotkin("init", "--db", there)
    lotkin("export", "--format", "epcis", "--case", "CASE-1", "--to", to, "--db", db)
    said = lotkin("import", "--epcis", to, "--dry-run", "--json", "--db", there).document()

    assert (said["dry_run"], said["items"]) == (True, 4)
    assert lotkin("show", "T-1", "--db", there).status == 4


def test_all_faults_are_listed(db: Path, tmp_path: Path) -> None:
    mill = Partner(tmp_path / "mill.json")
    mill.add("Object", action="BUY", quantityList=[quantity(ROD, -1)])
    mill.write()
    done = lotkin("import", "--epcis", mill.path, "--db", db)

    assert done.status == 3
    assert done.err.splitlines() == [
        "error: mill.json: 2 faults, nothing was recorded",
        "  epcisBody.eventList[0].action: must be one of ADD, DELETE, OBSERVE",
        "  epcisBody.eventList[0].quantityList[0].quantity: must not be below zero",
        "hint: correct it, import first what it builds on, or keep codes apart by --prefix",
    ]


def test_what_was_left_out_is_told(db: Path, tmp_path: Path) -> None:
    mill = Partner(tmp_path / "mill.json")
    mill.add("Object", action="OBSERVE", quantityList=[quantity(ROD, 3, "LTR")])
    mill.write()
    done = lotkin("import", "--epcis", mill.path, "--from", "MILL", "--db", db)

    assert done.out.splitlines()[1:] == [
        "left out: epcisBody.eventList[0]: 3 LTR: lotkin keeps no quantities in LTR"
    ]


def test_only_what_happened_in_a_time_is_written(db: Path, tmp_path: Path) -> None:
    to = tmp_path / "day.json"
    span = ("--since", "2026-03-02T06:02:00Z", "--until", "2026-03-02T06:03:00Z")
    lotkin("export", "--format", "epcis", *span, "--to", to, "--db", db)
    events = json.loads(to.read_text("utf-8"))["epcisBody"]["eventList"]

    assert {event["lotkin:kind"] for event in events} == {"make"}


@pytest.mark.parametrize(
    "words",
    [
        ("export", "--format", "prov", "--case", "CASE-1", "--to", "x"),
        ("export", "--format", "tables", "--since", "2026-03-02T06:02:00Z"),
        ("export", "--format", "epcis"),
        ("export", "--format", "epcis", "--since", "yesterday", "--to", "x"),
        ("export", "--format", "epcis", "--since", "2026-03-02", "--to", "x"),
        ("import", "--epcis", "x", "--items", "y"),
        ("import", "--from", "MILL", "--items", "y"),
        ("import", "--prefix", "MILL", "--items", "y"),
        ("import", "--epcis", "x", "--prefix", "M" * 41),
        ("import", "--epcis", "x", "--prefix", "MILL 2/"),
    ],
)
def test_options_that_do_not_go_together_are_refused(db: Path, words: tuple[str, ...]) -> None:
    assert lotkin(*words, "--db", db).status == 2


def test_a_period_that_ends_before_it_begins_is_refused(db: Path) -> None:
    span = ("--since", "2026-03-02T06:02:00Z", "--until", "2026-03-02T06:00:00Z")
    done = lotkin("export", "--format", "epcis", *span, "--to", "x", "--db", db)

    assert done.status == 2
    assert "--until is not after --since" in done.err


def test_what_is_not_there_is_named(db: Path, tmp_path: Path) -> None:
    for words in (("--case", "CASE-9"), ("--of", "T-9")):
        done = lotkin("export", "--format", "epcis", *words, "--to", tmp_path / "x", "--db", db)
        assert done.status == 4
        assert words[1] in done.err
    missing = lotkin("import", "--epcis", tmp_path / "nowhere.json", "--db", db)
    assert missing.status == 3
    assert "cannot be read" in missing.err
