"""How many pieces to check, and what a check proves: laws and limits."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.quality.evidence import most_bad, share_at_most, share_bounds
from lotkin.core.quality.sampling import (
    LARGEST_LOT,
    MOST_ALLOWED,
    acceptance,
    bad_at_share,
    sample_plan,
    success_run,
)

SURE = Fraction(95, 100)


@given(st.integers(0, 8), st.data())
def test_the_chance_to_pass_is_what_counting_all_samples_gives(
    lot: int, data: st.DataObject
) -> None:
    bad, sample, allowed = (data.draw(st.integers(0, lot)) for _ in range(3))
    drawn = [sum(piece < bad for piece in pieces) for pieces in combinations(range(lot), sample)]

    passes = sum(found <= allowed for found in drawn)
    assert acceptance(lot, bad, sample, allowed) == Fraction(passes, len(drawn))


@given(st.integers(1, 60), st.data())
def test_no_smaller_sample_would_do(lot: int, data: st.DataObject) -> None:
    bad = data.draw(st.integers(1, lot))
    allowed = data.draw(st.integers(0, bad - 1))

    plan = sample_plan(lot, bad, SURE, allowed)

    risks = [acceptance(lot, bad, n, allowed) for n in range(lot + 1)]
    assert plan.sample == next(n for n, risk in enumerate(risks) if risk <= 1 - SURE)
    assert plan.risk == plan.passes_with(bad) == risks[plan.sample]
    assert all(plan.passes_with(more) <= plan.risk for more in range(bad, lot + 1))


def test_one_bad_piece_is_found_only_by_checking_nearly_all() -> None:
    assert sample_plan(20, 1, SURE).sample == 19
    assert sample_plan(19, 1, SURE).is_whole_lot


def test_the_risk_that_is_just_allowed_counts_as_allowed() -> None:
    """A chance of 1/20 is not above 5 %: whole numbers decide."""
    assert sample_plan(20, 1, SURE).risk == Fraction(1, 20)
    assert success_run(Fraction(3, 4), Fraction(1, 2)) == 2
    assert success_run(Fraction(19, 100), Fraction(9, 10)) == 2
    assert success_run(Fraction(1901, 10000), Fraction(9, 10)) == 3


def test_the_largest_lot_is_answered() -> None:
    assert sample_plan(LARGEST_LOT, 1, Fraction(99, 100)).sample == 990_000
    plan = sample_plan(LARGEST_LOT, 1_000, Fraction(99, 100), MOST_ALLOWED)
    assert plan.risk <= Fraction(1, 100) < plan.passes_with(999)


def test_a_share_is_a_whole_number_of_pieces_and_never_none() -> None:
    assert [bad_at_share(n, Fraction(5, 100)) for n in (1, 20, 21, 40)] == [1, 1, 2, 2]


@pytest.mark.parametrize(
    ("lot", "bad", "confidence", "allowed"),
    [
        (0, 1, SURE, 0),
        (LARGEST_LOT + 1, 1, SURE, 0),
        (10, 11, SURE, 0),
        (10, 0, SURE, 0),
        (10, 2, SURE, 2),
        (10, 2, SURE, -1),
        (1000, 500, SURE, MOST_ALLOWED + 1),
        (10, 1, Fraction(1), 0),
        (10, 1, Fraction(0), 0),
    ],
)
def test_a_plan_that_means_nothing_is_refused(
    lot: int, bad: int, confidence: Fraction, allowed: int
) -> None:
    with pytest.raises(ValueError, match=r"pieces|confidence"):
        sample_plan(lot, bad, confidence, allowed)


def test_chances_and_runs_that_mean_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="no sample"):
        acceptance(10, 11, 1)
    with pytest.raises(ValueError, match="between 0 and 1"):
        success_run(SURE, Fraction(1))
    with pytest.raises(ValueError, match="bad ones"):
        share_at_most(3, 2, 0.95)
    with pytest.raises(ValueError, match="confidence"):
        share_at_most(0, 2, 1.0)
    with pytest.raises(ValueError, match="checked of"):
        most_bad(10, 11, 0, SURE)


def test_nothing_checked_proves_nothing_and_all_checked_proves_all() -> None:
    assert most_bad(50, 0, 0, SURE) == 50
    assert most_bad(50, 50, 0, SURE) == 0
    assert most_bad(50, 50, 3, SURE) == 3
    assert share_bounds(0, 5, 0.95).low == 0.0
    assert share_bounds(5, 5, 0.95).high == 1.0


@given(st.integers(1, 60), st.data())
def test_what_a_clean_sample_leaves_is_what_it_was_planned_to_find(
    lot: int, data: st.DataObject
) -> None:
    bad = data.draw(st.integers(1, lot))
    plan = sample_plan(lot, bad, SURE)

    assert most_bad(lot, plan.sample, 0, SURE) < bad
    assert most_bad(lot, plan.sample - 1, 0, SURE) >= bad
