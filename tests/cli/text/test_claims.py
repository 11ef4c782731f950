"""Who acts at the command line is named as a claim, in the text and in the document alike."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.cli.command import Ended, lotkin
from tests.small_works import PLAN, Works

if TYPE_CHECKING:
    from pathlib import Path

PEOPLE = """
person = [
  {code = "ANN", name = "Ann", roles = ["operator"]},
  {code = "quinn", name = "Quinn", roles = ["quality"]},
]
"""
NO_ROLES = """
person = [{code = "ANN", name = "Ann"}, {code = "quinn", name = "Quinn"}]
"""


def judged(path: Path, plan: str) -> list[Ended]:
    """Open a case, decide in it and close it."""
    works = Works(str(path), plan=plan)
    works.receive("L-1", 10)
    works.store.close()
    more = ("--reason", "too thin", "--by", "quinn", "--json", "--db", path)
    opened = lotkin("contain", "L-1", "--open", *more)
    case = opened.document()["case"]
    decided = lotkin("case", "decide", case, "L-1", "--decision", "scrap", *more)
    return [opened, decided, lotkin("case", "close", case, *more)]


@pytest.mark.parametrize(
    ("people", "in_plan", "is_claimed"),
    [(PEOPLE, True, True), (NO_ROLES, True, False), ("", False, False)],
)
def test_a_document_says_that_a_role_was_claimed_as_the_text_does(
    tmp_path: Path, people: str, in_plan: bool, is_claimed: bool
) -> None:
    answers = judged(tmp_path / "works.db", people + PLAN)
    assert [answer.document()["recorded_by"] for answer in answers] == [
        {
            "by": "quinn",
            "named_in_plan": in_plan,
            "role": {"claimed": is_claimed, "checked": False},
        }
    ] * 3


def test_a_question_has_nobody_to_name(tmp_path: Path) -> None:
    judged(tmp_path / "works.db", PEOPLE + PLAN)
    asked = lotkin("contain", "L-1", "--json", "--db", tmp_path / "works.db")
    assert "recorded_by" not in asked.document()


def test_scopes_count_the_units_at_customers_under_a_readable_name(tmp_path: Path) -> None:
    judged(tmp_path / "works.db", PEOPLE + PLAN)
    compared = lotkin("case", "compare", "L-1", "--json", "--db", tmp_path / "works.db")
    (scope,) = compared.document()["scopes"]
    assert (scope["units_at_customers"], scope["units_at_unknown_places"]) == (0, 0)
