"""The enumeration itself against counts known from elsewhere; the core takes no part here.

Sources: the hypergeometric law in its closed form, 1 - C(N - K, n) / C(N, n), as any textbook of
sampling has it; that 13 of 50 miss the one defective in exactly 37 of 50 cases is 1 - 13/50.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import permutations
from math import comb

import pytest

from lotkin.core.values.kinds import Mixing
from tests.core.exposure.assignments import SETUP, Draw, Made, enumerate_truth, write_genealogy


def each(parent: str, per: int = 1) -> Draw:
    return Draw(Mixing.EACH, ((parent, 1),), per)


def mixture(bad: int, good: int) -> list[Made]:
    mixed = Draw(Mixing.ONE_OF, (("BAD", bad), ("GOOD", good)))
    return [
        Made("BAD", "purchased-lot", bad),
        Made("GOOD", "purchased-lot", good),
        Made("MIX", "mixed-lot", bad + good, (mixed,)),
    ]


@pytest.mark.parametrize(("bad", "good", "drawn"), [(1, 3, 2), (2, 4, 3), (3, 3, 1), (2, 2, 4)])
def test_drawing_several_pieces_is_hypergeometric(bad: int, good: int, drawn: int) -> None:
    truth = enumerate_truth(
        [*mixture(bad, good), Made("U", "unit", 1, (each("MIX", drawn),))], ["BAD"]
    )
    spared = Fraction(comb(good, drawn), comb(bad + good, drawn))
    assert truth.chance["U"] == 1 - spared
    assert ("U" in truth.always) == (spared == 0)


def test_a_sample_of_13_of_50_misses_one_defective_in_74_of_100() -> None:
    truth = enumerate_truth([*mixture(1, 49), Made("U", "unit", 1, (each("MIX", 13),))], ["BAD"])
    assert 1 - truth.chance["U"] == Fraction(74, 100)


def test_units_share_the_pieces_of_a_lot() -> None:
    """Four units from four pieces, one of them bad: each has one chance in four."""
    units = [Made(f"U{i}", "unit", 1, (each("MIX"),)) for i in range(4)]
    truth = enumerate_truth([*mixture(1, 3), *units], ["BAD"])
    assert [truth.chance[unit.code] for unit in units] == [Fraction(1, 4)] * 4
    assert (truth.most_units, truth.expected_units) == (1, Fraction(1))


def test_deals_counted_one_by_one_give_the_same() -> None:
    """Two units of two pieces each from a lot of two bad and three good: all 120 orders."""
    deals = list(permutations([True, True, False, False, False]))
    both = sum((a or b) and (c or d) for a, b, c, d, _ in deals)
    first = sum(a or b for a, b, *_ in deals)
    history = [
        *mixture(2, 3),
        Made("U1", "unit", 1, (each("MIX", 2),)),
        Made("U2", "unit", 1, (each("MIX", 2),)),
        Made("PAIR", "powder-blend", 1, (each("U1"), each("U2"))),
    ]
    truth = enumerate_truth(history, ["BAD"])
    assert truth.chance["U1"] == truth.chance["U2"] == Fraction(first, len(deals))
    assert truth.chance["PAIR"] == Fraction(2 * first - both, len(deals))
    assert truth.most_units == 2


def test_a_can_is_of_one_lot_whole() -> None:
    """Three pieces of either lot: all three units are affected, or none, at one in four."""
    history = [
        Made("BAD", "purchased-lot", 3),
        Made("GOOD", "purchased-lot", 3),
        Made("CAN", "mixed-lot", 3, (Draw(Mixing.EITHER, (("BAD", 1), ("GOOD", 3))),)),
        *(Made(f"U{i}", "unit", 1, (each("CAN"),)) for i in range(3)),
    ]
    truth = enumerate_truth(history, ["BAD"])
    assert truth.chance["U0"] == Fraction(1, 4)
    assert (truth.most_units, truth.expected_units) == (3, Fraction(3, 4))


def test_what_was_read_off_is_what_was_played() -> None:
    history = [
        *mixture(1, 3),
        Made("S", SETUP, 1, (each("MIX", 2),)),
        Made("U", "unit", 1, (Draw(Mixing.EACH, (("S", 1),)),)),
    ]
    assert write_genealogy(history).splitlines()[4:] == [
        "unit U",
        "BAD 1.0 + GOOD 3.0 -> MIX : one-of per 1",
        "MIX -> S : each per 2",
        "S -> U : each per 1",
    ]
    assert enumerate_truth(history, ["BAD"]).chance["U"] == Fraction(1, 2)
