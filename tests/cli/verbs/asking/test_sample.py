"""The verb `sample`."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.cli.command import lotkin

if TYPE_CHECKING:
    from pathlib import Path

# 98 came back, 50 of them were mounted and 5 built in: 93 are left in the house
LOT = "TIP-1T"


def test_a_sample_is_told_as_a_document(small_store: Path) -> None:
    words = ["sample", LOT, "--bad-pieces", "5", "--checked", "30", "--db", str(small_store)]
    document = lotkin(*words, "--json").document()

    assert document["subject"]["code"] == LOT
    assert document["on_hand"] == 93
    assert document["risk"] <= 0.05
    assert document["passes"][0]["bad_pieces"] == 1
    assert document["shown"]["checked"] == 30
    assert document["endless_process"] is None


def test_a_sample_is_told_in_words(small_store: Path) -> None:
    words = ["sample", LOT, "--bad-share", "0.05", "--checked", "30", "--db", str(small_store)]
    answer = lotkin(*words)

    assert (answer.status, answer.err) == (0, "")
    assert "on hand: 93 pcs" in answer.out
    assert "drawn at random; it passes with 0 bad in the sample" in answer.out
    assert "it would be 59 pcs" in answer.out
    assert "shown by 30 checked, 0 bad: at most" in answer.out


@pytest.mark.parametrize(
    "words",
    [
        ["--confidence", "95"],
        ["--confidence", "1"],
        ["--confidence", "nan"],
        ["--confidence", "much"],
        ["--confidence", "0.99999999999"],
        ["--bad-share", "0"],
        ["--bad-pieces", "1", "--bad-share", "0.5"],
        ["--bad-pieces", "0"],
        ["--found", "1"],
    ],
    ids=" ".join,
)
def test_what_is_no_share_or_number_is_wrong_usage(small_store: Path, words: list[str]) -> None:
    answer = lotkin("sample", LOT, *words, "--db", small_store)

    assert (answer.status, answer.out) == (2, "")


def test_more_bad_pieces_than_there_are_is_refused(small_store: Path) -> None:
    answer = lotkin("sample", LOT, "--bad-pieces", "94", "--json", "--db", small_store)

    assert answer.status == 3
    assert answer.error()["record"] == LOT
