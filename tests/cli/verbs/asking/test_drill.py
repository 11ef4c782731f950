"""drill: what it tells, what it leaves on record, and its exit status."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

import pytest

from tests.cli.command import lotkin
from tests.cli.event_lines import event_line

if TYPE_CHECKING:
    from pathlib import Path


def test_a_drill_tells_what_it_found_and_ends_with_1_for_gaps(own_store: Path) -> None:
    answer = lotkin("drill", "PUMP-001", "--db", own_store)

    # the screws were received without a supplier
    assert answer.status == 1
    assert answer.out.startswith("Drill on PUMP-001 (unit, PUMP)\n  answered in  ")
    assert "1 of 1 pcs accounted for" in answer.out
    assert "SCREWS-1: neither a supplier nor what it was made from is recorded" in answer.out


def test_a_drill_without_gaps_ends_well(own_store: Path) -> None:
    answer = lotkin("drill", "MILL:H48", "--json", "--db", own_store)
    document = answer.document()

    assert answer.status == 0
    assert document["completeness"] == 1
    assert document["units"] == 5
    assert document["customers"] == [{"customer": "CLINIC", "items": 3}]
    assert document["accounts"] == [
        {
            "unit": "m",
            "part": "",
            "of": 10,
            "found": 10,
            "verdict": "complete",
            "missing": 0,
            "more_used_than_made": 0,
            "only_counted": 0,
            "not_known": 0,
        }
    ]


def test_a_drill_on_pieces_that_were_lost_fails_and_says_so(own_store: Path) -> None:
    lost = event_line("count", place="SHELF", item="SCREWS-1", counted=1)
    lotkin("record", "--db", own_store, given=lost)

    answer = lotkin("drill", "SCREWS-1", "--json", "--db", own_store)

    assert answer.status == 1
    (account,) = answer.document()["accounts"]
    assert account["verdict"] == "missing"
    assert account["found"] + account["missing"] == account["of"]
    assert any("pcs missing" in gap for gap in answer.document()["gaps"])


def test_a_seed_chooses_the_subject(own_store: Path) -> None:
    first = lotkin("drill", "--seed", "7", "--json", "--db", own_store).document()
    second = lotkin("drill", "--seed", "7", "--json", "--db", own_store).document()

    assert first["subject"] == second["subject"]
    assert (first["seed"], second["event"]) == (7, first["event"] + 1)
    assert "chosen by chance (--seed " in lotkin("drill", "--db", own_store).out


def test_drills_on_record_are_listed(own_store: Path) -> None:
    assert lotkin("drill", "--list", "--db", own_store).out == "no drill is on record\n"
    for code in ("PUMP-001", "MILL:H48"):
        lotkin("drill", code, "--by", "ANN", "--db", own_store)

    listed = lotkin("drill", "--list", "--db", own_store)
    assert listed.status == 0
    assert "2 drills, 1 without gaps; answered in " in listed.out
    rows = list(
        csv.DictReader(io.StringIO(lotkin("drill", "--list", "--csv", "--db", own_store).out))
    )
    assert [(row["subject"], row["by"]) for row in rows] == [
        ("PUMP-001", "ANN"),
        ("MILL:H48", "ANN"),
    ]
    document = lotkin("drill", "--list", "--json", "--db", own_store).document()
    assert [each["units"] for each in document["drills"]] == [1, 5]


@pytest.mark.parametrize(
    "words", [["--list", "PUMP-001"], ["--csv"], ["--seed", "-1"], ["--list", "--seed", "1"]]
)
def test_what_does_not_go_together_is_wrong_usage(own_store: Path, words: list[str]) -> None:
    answer = lotkin("drill", *words, "--db", own_store)

    assert (answer.status, answer.out) == (2, "")
