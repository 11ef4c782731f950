"""Spans of time on the command line: as the works say them, and what nothing overlaps."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from openpyxl import load_workbook

from tests.cli.command import Ended, lotkin

if TYPE_CHECKING:
    from pathlib import Path

BEFORE = ["--from", "2026-02-01", "--to", "2026-02-28"]
ASKING = ["where-used", "contain", "hold-first", "next-question"]


def packed(store: Path, *words: str) -> Ended:
    return lotkin("where-used", "PUMP-001", *words, "--quiet", "--db", store)


@pytest.mark.parametrize("verb", ASKING)
def test_a_span_that_nothing_overlaps_is_a_finding(small_store: Path, verb: str) -> None:
    answer = lotkin(verb, "ANO-1", *BEFORE, "--db", small_store)

    assert (answer.status, answer.out) == (1, "")
    assert answer.err.startswith("finding: no run of ANO-1 overlaps 2026-02-01 00:00:00+01:00 to ")
    assert "the nearest after: ANO-1, begun 2026-03-02 " in answer.err


def test_a_report_of_a_span_that_nothing_overlaps_is_not_written(
    small_store: Path, tmp_path: Path
) -> None:
    into = tmp_path / "found.pdf"
    span = ["--since", "2026-02-01", "--until", "2026-02-28"]
    answer = lotkin("report", "contain", "ANO-1", *span, "--to", into, "--db", small_store)

    assert answer.status == 1
    assert "no run of ANO-1 overlaps" in answer.err
    assert not into.exists()


def test_no_case_is_opened_on_a_span_that_nothing_overlaps(own_store: Path) -> None:
    said = ["--open", "--reason", "bad bath", "--by", "olga"]
    answer = lotkin("contain", "ANO-1", *BEFORE, *said, "--db", own_store)

    assert answer.status in {1, 3}
    assert "no run of ANO-1 overlaps" in answer.err
    assert lotkin("case", "list", "--db", own_store).out == "no case was ever opened\n"


def test_what_a_span_leaves_out_stands_first(small_store: Path) -> None:
    # two pieces are still at the anodiser; the bar was turned the day before
    words = ["contain", "BAR-A", "ANO-1", "--from", "2026-03-03", "--db", str(small_store)]
    answer = lotkin(*words)

    assert answer.status == 1
    assert answer.out.startswith("left out by the time asked about: 1 item\n  no run of BAR-A")
    document = lotkin(*words, "--json").document()
    (left_out,) = document["outside_the_time"]
    assert (left_out["code"], left_out["nearest_before"]["code"]) == ("BAR-A", "TIP-1")
    assert left_out["time_not_recorded"] == 1


def test_a_report_says_what_its_span_leaves_out(small_store: Path, tmp_path: Path) -> None:
    into = tmp_path / "found.xlsx"
    words = ["report", "contain", "BAR-A", "ANO-1", "--since", "2026-03-03", "--to", str(into)]
    answer = lotkin(*words, "--db", small_store)

    assert answer.status == 1
    assert "no run of BAR-A overlaps" in answer.out
    cells = [row[1].value for row in load_workbook(into).worksheets[0].iter_rows()]
    assert any("no run of BAR-A overlaps" in str(cell) for cell in cells)


def test_a_day_is_one_of_the_works(small_store: Path) -> None:
    assert "CARTON-1" in packed(small_store, "--from", "2026-03-02", "--to", "2026-03-02").out
    assert packed(small_store, "--from", "2026-03-03").status == 1
    assert packed(small_store, "--to", "2026-03-01").status == 1


def test_a_time_without_a_zone_is_in_that_of_the_works(small_store: Path) -> None:
    # the works are an hour ahead of UTC in March; the pump was packed before half past seven
    assert packed(small_store, "--from", "2026-03-02T07:00:00").status == 0
    assert packed(small_store, "--from", "2026-03-02T07:30:00").status == 1
    assert packed(small_store, "--from", "2026-03-02T07:00:00Z").status == 1


def test_a_time_without_a_zone_is_refused_where_no_plan_says_it(tmp_path: Path) -> None:
    store = tmp_path / "empty.db"
    lotkin("init", "--db", store)
    answer = lotkin("where-used", "X", "--from", "2026-03-02T07:00:00", "--db", store)

    assert answer.status == 2
    assert "needs a time zone" in answer.err


def test_the_span_is_printed_in_the_time_of_the_works(small_store: Path) -> None:
    said = lotkin("where-used", "ANO-1", "--from", "2026-03-02", "--db", small_store).out
    assert "only what may have been done with it from 2026-03-02 00:00:00+01:00" in said


@pytest.mark.parametrize("verb", ["contain", "hold-first", "next-question"])
def test_every_question_names_first_what_a_span_leaves_out(small_store: Path, verb: str) -> None:
    words = [verb, "BAR-A", "ANO-1", "--from", "2026-03-03", "--db", str(small_store)]
    answer = lotkin(*words)

    assert answer.status == 1
    assert answer.out.startswith("left out by the time asked about: 1 item\n  no run of BAR-A")
    (left_out,) = lotkin(*words, "--json").document()["outside_the_time"]
    assert (left_out["code"], left_out["nearest_before"]["code"]) == ("BAR-A", "TIP-1")


@pytest.mark.parametrize("verb", ["hold-first", "next-question"])
def test_a_question_that_leaves_nothing_out_says_so(small_store: Path, verb: str) -> None:
    words = [verb, "BAR-A", "ANO-1", "--from", "2026-03-01", "--db", str(small_store)]
    answer = lotkin(*words)

    assert answer.status == 0
    assert "left out" not in answer.out
    assert lotkin(*words, "--json").document()["outside_the_time"] == []
