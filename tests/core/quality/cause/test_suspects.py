"""Ranking what failed units share: what is tested, what is told as one, what is a finding."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.quality.cause import LEVEL, adjusted, compare, fisher_greater

BAD, SOUND = 8, 40
FAILED = (1 << BAD) - 1
EVERYONE = (1 << (BAD + SOUND)) - 1


def units(bad: int, sound: int) -> int:
    """Name the first so many failed units and the first so many sound ones, as bits."""
    return (1 << bad) - 1 | ((1 << sound) - 1) << BAD


def test_the_cause_comes_first_and_is_a_finding() -> None:
    found = compare({7: units(8, 4), 8: units(5, 20), 9: units(2, 10)}, FAILED, EVERYONE)

    assert [suspect.items for suspect in found.suspects] == [(7,), (8,), (9,)]
    assert [suspect.is_finding for suspect in found.suspects] == [True, False, False]
    assert (found.failed, found.sound, found.tested) == (8, 40, 3)


def test_what_the_same_units_have_is_told_as_one_and_tested_once() -> None:
    found = compare({1: units(8, 4), 2: units(8, 4), 3: units(8, 5)}, FAILED, EVERYONE)

    assert [suspect.items for suspect in found.suspects] == [(1, 2), (3,)]
    assert found.tested == 2


def test_what_all_units_have_is_not_tested() -> None:
    found = compare({1: EVERYONE, 2: units(1, 0), 3: units(4, 4)}, FAILED, EVERYONE)

    # one unit of 48 is by chance a failed one in 8 of 48 cases: no outcome could be a finding
    assert (found.tested, found.untested) == (1, 2)
    assert [suspect.items for suspect in found.suspects] == [(3,)]


def test_what_only_sound_units_have_is_tested_too() -> None:
    """Leaving it out because no unit failed would make findings out of chance."""
    found = compare({1: units(4, 4), 2: units(0, 20)}, FAILED, EVERYONE)

    assert found.tested == 2
    assert found.suspects[0].adjusted == pytest.approx(2 * found.suspects[0].p)
    assert [suspect.items for suspect in found.suspects] == [(1,)]


def test_nothing_to_compare_with_is_no_finding() -> None:
    found = compare({1: units(8, 0)}, FAILED, FAILED)

    assert (found.sound, found.tested, found.suspects) == (0, 0, ())


def test_chance_alone_rarely_makes_a_finding() -> None:
    """With no cause there is a finding in 5 of 100 comparisons at most, as promised."""
    random = Random(2026)
    false = 0
    for _ in range(200):
        holders = {
            i: sum(1 << unit for unit in random.sample(range(BAD + SOUND), random.randint(2, 30)))
            for i in range(30)
        }
        found = compare(holders, FAILED, EVERYONE)
        false += any(suspect.is_finding for suspect in found.suspects)

    assert false <= 200 * LEVEL + 2 * (200 * LEVEL * (1 - LEVEL)) ** 0.5


@given(st.lists(st.fractions(0, 1), max_size=12))
def test_adjusted_values_keep_their_order_and_are_never_smaller(values: list[Fraction]) -> None:
    found = adjusted(values)

    assert all(p <= fair <= 1 for p, fair in zip(values, found, strict=True))
    pairs = sorted(zip(values, found, strict=True))
    assert [fair for _, fair in pairs] == sorted(found)


def test_a_table_without_failures_says_nothing() -> None:
    assert fisher_greater((0, 5), (0, 7)) == 1
    assert fisher_greater((0, 0), (0, 0)) == 1
    with pytest.raises(ValueError, match="no table"):
        fisher_greater((-1, 0), (0, 0))
