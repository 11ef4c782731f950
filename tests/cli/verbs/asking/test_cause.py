"""The verb `common-cause`."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

import pytest

from lotkin_answers.documents.investigation.causes import CAUSE_COLUMNS
from tests.cli.command import lotkin
from tests.uses.asking.test_common_cause import works_with_two_lots

if TYPE_CHECKING:
    from pathlib import Path

FAILED = ["PUMP-01", "PUMP-02", "PUMP-03", "PUMP-04"]


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("cause") / "cause.db"
    works_with_two_lots(url=str(path)).store.close()
    return path


def test_a_finding_is_told_in_words(store: Path) -> None:
    answer = lotkin("common-cause", *FAILED, "--db", store)

    assert (answer.status, answer.err) == (0, "")
    assert "finding: BAD\n" in answer.out
    assert "compared with 8 shipped PUMP built from 2026-01-1" in answer.out
    assert "(a margin of 45 days)" in answer.out
    assert "4 of 4" in answer.out


def test_a_finding_is_told_as_a_document_and_as_rows(store: Path) -> None:
    document = lotkin("common-cause", *FAILED, "--json", "--db", store).document()
    rows = list(
        csv.DictReader(io.StringIO(lotkin("common-cause", *FAILED, "--csv", "--db", store).out))
    )

    assert (document["enough"], document["finding"]) == (True, True)
    (cause,) = document["causes"]
    assert cause["items"] == [{"code": "BAD", "kind": "purchased-lot", "part": "SCREW"}]
    assert (cause["failed_with"], cause["sound_with"]) == (4, 0)
    assert tuple(rows[0]) == CAUSE_COLUMNS
    assert [row["code"] for row in rows] == ["BAD"]


def test_no_finding_and_not_enough_are_answers_too(store: Path) -> None:
    none = lotkin("common-cause", "PUMP-01", "PUMP-05", "PUMP-06", "--db", store)
    few = lotkin("common-cause", "PUMP-01", "PUMP-02", "--db", store)

    assert (none.status, few.status) == (0, 0)
    assert "no finding: nothing they share is more than chance" in none.out
    assert "not enough: at least three units" in few.out
    assert not lotkin("common-cause", "PUMP-01", "--json", "--db", store).document()["enough"]
    assert lotkin("common-cause", "PUMP-01", "--csv", "--db", store).out.count("\n") == 1


def test_a_margin_below_zero_is_wrong_usage_and_a_lot_is_not_found(store: Path) -> None:
    assert lotkin("common-cause", *FAILED, "--margin", "-1", "--db", store).status == 2
    assert lotkin("common-cause", "BAD", "--db", store).status == 4
