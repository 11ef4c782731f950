"""The verb `next-question`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.cli.command import lotkin

if TYPE_CHECKING:
    from pathlib import Path


def test_a_lot_of_two_bars_is_asked_about(small_store: Path) -> None:
    words = ["next-question", "MILL:H48", "--db", str(small_store)]

    (question,) = lotkin(*words, "--json").document()["questions"]
    said = lotkin(*words)

    # 6 m of one bar and 2 m of the other
    assert (question["code"], question["chance_free"]) == ("TIP-1", 0.25)
    assert question["candidates"] == ["BAR-A", "BAR-B"]
    assert question["suspects"] == ["BAR-A"]
    assert question["pieces_freed_expected"] == question["pieces_hanging"] / 4
    assert said.status == 0
    assert "Which pieces of TIP-1 are of which lot?" in said.out
    assert "BAR-A (suspect), BAR-B" in said.out
    assert lotkin(*words, "--csv").out.count("\n") == 2


def test_where_all_is_certain_there_is_no_question(small_store: Path) -> None:
    answer = lotkin("next-question", "ANO-1", "--db", small_store)

    assert answer.status == 0
    assert answer.out.startswith("no question: ")
