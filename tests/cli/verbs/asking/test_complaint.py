"""complaint: text that answers a phone call, a document, and the components as a list."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

from tests.cli.command import lotkin

if TYPE_CHECKING:
    from pathlib import Path


def test_the_text_tells_where_it_is_what_is_in_it_and_who_else_has_that(small_store: Path) -> None:
    answer = lotkin("complaint", "PUMP-001", "--db", small_store)

    assert (answer.status, answer.err) == (0, "")
    assert answer.out.startswith(
        "PUMP-001: shipped to CLINIC (Clinic) on 2026-03-02, not recorded as back; in no case\n"
    )
    assert "PUMP-001 (unit, PUMP)\n  where   CLINIC (Clinic) in CARTON-1\n" in answer.out
    for heading in ("Where it went", "Tests", "What is in it", "Certificates", "Behind it"):
        assert f"\n{heading}" in answer.out
    assert "CLINIC 2, ROOM-1 2" in answer.out
    assert "No longer in it" not in answer.out


def test_the_document_has_all_of_it(small_store: Path) -> None:
    document = lotkin("complaint", "PUMP-001", "--json", "--db", small_store).document()

    assert document["unit"]["at"][0]["place"] == "CLINIC"
    assert [step["what"] for step in document["went"]] == ["packed", "shipped"]
    assert [one["position"] for one in document["components"]] == ["P1", "P2"]
    assert document["components"][0]["lots"][0]["other_units"] == 4
    assert document["components"][0]["lots"][0]["at"] == [
        {"place": "CLINIC", "name": "Clinic", "units": 2},
        {"place": "ROOM-1", "name": "First room", "units": 2},
    ]
    # five pumps, all with the reading 0: half of them below on average
    assert document["tests"][0]["readings"][0]["percentile"] == 50
    assert document["tests"][0]["readings"][0]["of"] == 5
    assert document["counts"]["outside-batch"] == 1


def test_the_list_is_that_of_the_components(small_store: Path) -> None:
    answer = lotkin("complaint", "PUMP-001", "--csv", "--db", small_store)

    rows = list(csv.DictReader(io.StringIO(answer.out)))
    assert [(row["lot"], row["quantity"], row["other_units"]) for row in rows] == [
        ("TIP-1T", "1", "4"),
        ("SCREWS-1", "2", "4"),
    ]
    assert rows[0]["other_units_at"] == "CLINIC: 2; ROOM-1: 2"


def test_what_is_no_unit_is_not_found(small_store: Path) -> None:
    answer = lotkin("complaint", "SCREWS-1", "--json", "--db", small_store)

    assert answer.status == 4
    assert answer.error()["kind"] == "not-a-unit"
