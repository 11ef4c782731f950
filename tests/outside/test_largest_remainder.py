"""Allocation without remainder, against exact fractions and a worked example.

Sources: the laws of the largest remainder method (Hamilton 1792, Hare-Niemeyer): the parts sum to
the whole and each is its exact quota rounded down or up; the worked example of ten seats and six
parties is the one that encyclopedias carry, from memory.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.values.quantities import allocate

totals = st.integers(0, 10**15)
weights = st.lists(st.integers(0, 10**12), min_size=1, max_size=8)


def quotas(total: int, by: list[int]) -> list[Fraction]:
    """Give the exact parts; equal ones if there is no weight at all."""
    if not sum(by):
        by = [1] * len(by)
    return [Fraction(total * weight, sum(by)) for weight in by]


def test_ten_seats_go_to_six_parties_as_in_the_worked_example() -> None:
    """Quotas 4.7, 1.6, 1.59, 1.2, 0.6, 0.31: the three odd seats go to .7, .6 and .6."""
    votes = [47_000, 16_000, 15_900, 12_000, 6_000, 3_100]
    assert allocate(10, votes) == [5, 2, 1, 1, 1, 0]


@given(totals, weights)
def test_the_parts_sum_to_the_whole(total: int, by: list[int]) -> None:
    assert sum(allocate(total, by)) == total


@given(totals, weights)
def test_each_part_is_its_quota_rounded_down_or_up(total: int, by: list[int]) -> None:
    for part, quota in zip(allocate(total, by), quotas(total, by), strict=True):
        assert abs(part - quota) < 1


@given(totals, weights)
def test_the_odd_ones_go_to_the_largest_remainders(total: int, by: list[int]) -> None:
    exact = quotas(total, by)
    parts = allocate(total, by)
    remainders = [quota - quota.__floor__() for quota in exact]
    got_one = [part > quota.__floor__() for part, quota in zip(parts, exact, strict=True)]
    spared = [r for r, got in zip(remainders, got_one, strict=True) if not got]
    favoured = [r for r, got in zip(remainders, got_one, strict=True) if got]
    assert max(spared, default=Fraction(0)) <= min(favoured, default=Fraction(1))


@given(totals, weights)
def test_what_weighs_nothing_gets_nothing(total: int, by: list[int]) -> None:
    if sum(by):
        for part, weight in zip(allocate(total, by), by, strict=True):
            assert weight > 0 or part == 0


@given(totals, weights)
def test_a_negative_whole_is_the_mirror_image(total: int, by: list[int]) -> None:
    assert allocate(-total, by) == [-part for part in allocate(total, by)]


@given(st.integers(1, 1000), weights)
def test_what_divides_evenly_is_divided_exactly(factor: int, by: list[int]) -> None:
    if sum(by):
        assert allocate(factor * sum(by), by) == [factor * weight for weight in by]


@pytest.mark.parametrize(("total", "count"), [(10, 3), (1, 4), (0, 2), (7, 7)])
def test_without_weights_all_get_the_same(total: int, count: int) -> None:
    parts = allocate(total, [0] * count)
    assert max(parts) - min(parts) <= 1
    assert parts == sorted(parts, reverse=True), "ties go to the earlier part"
