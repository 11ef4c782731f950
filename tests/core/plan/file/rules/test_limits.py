"""Lower and upper limits."""

from __future__ import annotations

import pytest

from tests.core.plan.small_shop import changed, line_in, only, said


def test_a_lower_limit_above_the_upper_one_is_found_at_the_lower() -> None:
    text = changed("min = 9.98", "min = 10.2")
    assert only(text) == (
        f"line {line_in(text, 'min = 10.2')}: part HEAD, step 10, measure Bore: "
        "min 10.2 is above max 10.02; swap them or correct one"
    )


def test_limits_of_a_step_are_compared_pair_by_pair() -> None:
    text = changed("max_celsius = 22.5", "max_celsius = -1\nmin_minutes = 5\nmax_minutes = 4.999")
    assert [problem.split(": ", 2)[2] for problem in said(text)] == [
        "min_celsius 15 is above max_celsius -1; swap them or correct one",
        "min_minutes 5 is above max_minutes 4.999; swap them or correct one",
    ]


def test_limits_of_a_test_are_compared() -> None:
    (problem,) = said(changed("max = 0.5", "min = 1\nmax = 0.5"))
    assert "part PUMP, test Leak: min 1 is above max 0.5" in problem


def test_crossed_limits_show_even_where_something_else_is_wrong() -> None:
    text = changed("min = 9.98\nmax = 10.02", "min = 10.2\nmax = 10.02\nrequired = 1")
    assert len(said(text)) == 2


@pytest.mark.parametrize("limits", ["min = 10\nmax = 10", "min = 10", "max = 10", ""])
def test_limits_may_meet_and_may_be_left_out(limits: str) -> None:
    assert said(changed("min = 9.98\nmax = 10.02", limits)) == []


def test_a_test_that_nothing_can_fail_is_none() -> None:
    text = changed("max = 0.5\n", "")
    assert only(text) == (
        f"line {line_in(text, '[[part.test]]')}: part PUMP, test Leak: "
        "the test has no limit; add min, max or both"
    )
