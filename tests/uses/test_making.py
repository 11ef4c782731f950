"""Inputs become outputs in a run: what is refused, and how inputs are divided."""

from __future__ import annotations

import pytest

from lotkin.core.errors import BadQuantity
from tests.small_works import Works


def test_no_more_is_lost_of_an_input_than_was_taken_of_it() -> None:
    works = Works()
    works.bar("BAR-1", 10)

    with pytest.raises(BadQuantity, match=r"0\.5 lost is more than was taken"):
        works.make({"TIPS": 5}, {"item": "BAR-1", "quantity": "0.4", "loss": "0.5"})


def test_an_input_may_be_lost_altogether() -> None:
    works = Works()
    works.bar("BAR-1", 10)
    works.make({"TIPS": 5}, {"item": "BAR-1", "quantity": "0.5", "loss": "0.5"})

    assert works.lines("BAR-1") == {"SHELF": 9.5, "process loss": 0.5}
    assert works.used("BAR-1").keys() == {"TIPS"}
