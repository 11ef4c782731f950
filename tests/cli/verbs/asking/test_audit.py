"""audit: gaps as text, document and list, and the exit status that tells of them."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

import pytest

from tests.cli.command import lotkin

if TYPE_CHECKING:
    from pathlib import Path

LATER = "2026-12-01T00:00:00Z"


def test_a_record_without_gaps_ends_well(small_store: Path) -> None:
    answer = lotkin("audit", "--at", "2026-03-03T00:00:00Z", "--db", small_store)

    assert (answer.status, answer.err) == (0, "")
    assert answer.out.startswith("no gaps found in the record of ")


def test_gaps_are_told_kind_by_kind_with_how_to_mend_them(small_store: Path) -> None:
    answer = lotkin("audit", "--at", LATER, "--db", small_store)

    assert answer.status == 1
    assert "\noutside-overdue: 1\n" in answer.out
    assert "ANO-1: 2 pcs of TIP-1 at ANODISER for 273 days" in answer.out
    assert "close the batch if nothing more will come back" in answer.out


def test_the_document_counts_the_gaps(small_store: Path) -> None:
    answer = lotkin("audit", "--at", LATER, "--json", "--db", small_store)
    document = answer.document()

    assert answer.status == 1
    assert sum(document["counts"].values()) == len(document["gaps"])
    assert set(document["gaps"][0]) == {"kind", "record", "at", "event", "message", "mend"}
    assert document["units"] == 5


def test_kinds_can_be_chosen(small_store: Path) -> None:
    words = ["audit", "--at", LATER, "--kind", "outside-overdue", "--db", str(small_store)]

    rows = list(csv.DictReader(io.StringIO(lotkin(*words, "--csv").out)))
    assert [(row["kind"], row["record"]) for row in rows] == [("outside-overdue", "ANO-1")]
    assert lotkin(*words, "--outside-days", "300").status == 0


@pytest.mark.parametrize(
    "words", [["--kind", "dust"], ["--at", "yesterday"], ["--stale-days", "-1"]], ids=" ".join
)
def test_wrong_options_are_wrong_usage(small_store: Path, words: list[str]) -> None:
    answer = lotkin("audit", *words, "--db", small_store)

    assert (answer.status, answer.out) == (2, "")


@pytest.mark.parametrize("at", ["2026-12-01", "2026-12-01T00:00", "2026-12-01 00:00:00"])
def test_a_day_or_a_time_without_a_zone_is_of_the_works(small_store: Path, at: str) -> None:
    # Zurich is an hour ahead of UTC in December
    words = ["audit", "--json", "--db", str(small_store), "--at"]
    assert lotkin(*words, at).out == lotkin(*words, "2026-11-30T23:00:00Z").out
