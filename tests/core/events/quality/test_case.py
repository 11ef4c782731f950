"""The words of decisions."""

from __future__ import annotations

from typing import get_args

from lotkin.core.cases.membership import DECISIONS
from lotkin.core.events.quality.case import DecisionWord


def test_what_a_decision_allows_is_known_for_each_word() -> None:
    assert set(get_args(DecisionWord)) == set(DECISIONS)
