"""Where a reading stands among others.

The percentile of a score that is tied: the documentation of scipy's `percentileofscore` gives 60
for 3 among 1, 2, 3, 3, 4 with `kind="mean"` (from memory); the other values are by hand.
"""

from __future__ import annotations

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.quality.percentile import standing_of

VALUES = st.decimals(-100, 100, places=2)


def decimals(*values: int) -> list[Decimal]:
    return [Decimal(value) for value in values]


def test_a_tied_reading_shares_its_place() -> None:
    found = standing_of(Decimal(3), decimals(1, 2, 3, 4))

    assert (found.rank, found.of, found.percentile) == (3, 5, 60)


def test_the_population_is_told_by_its_ends_and_its_middle() -> None:
    found = standing_of(Decimal(10), decimals(40, 20, 30))

    assert [found.low, found.median, found.high] == decimals(10, 25, 40)
    assert (found.rank, found.percentile) == (1, 12.5)


def test_a_reading_without_siblings_stands_in_the_middle() -> None:
    found = standing_of(Decimal(7), [])

    assert (found.rank, found.of, found.percentile) == (1, 1, 50)


@given(st.lists(VALUES, min_size=1, max_size=12))
def test_the_percentiles_of_all_readings_average_to_fifty(values: list[Decimal]) -> None:
    places = [
        standing_of(value, values[:i] + values[i + 1 :]).percentile
        for i, value in enumerate(values)
    ]

    assert abs(sum(places) / len(places) - 50) < 0.01
