"""The chance that a given piece contains what was asked about, and what bounds it."""

from __future__ import annotations

import pytest

from lotkin.core.exposure.exposure import expose
from tests.genealogies import Genealogy, Seen


def numbers(seen: Seen) -> tuple[float | None, float, float]:
    return seen.chance, seen.low, seen.high


def test_one_of_goes_by_share(genealogy: Genealogy) -> None:
    """Ten of A among a hundred.

    purchased-lot A 10, B 90
    mixed-lot M 100
    unit U
    A 10 + B 90 -> M : one-of
    M 1 -> U
    """
    found = genealogy.exposed_to("A")
    assert numbers(found["M"]) == numbers(found["U"]) == (0.1, 0.1, 0.1)


def test_several_pieces_of_a_mixture_are_several_chances(genealogy: Genealogy) -> None:
    """1 - 0.9 ** 6; at least as likely as one piece, at most six times that.

    purchased-lot A 10, B 90
    mixed-lot M 100
    unit U
    A 10 + B 90 -> M : one-of
    M 6 -> U : per 6
    """
    found = genealogy.exposed_to("A")
    assert numbers(found["U"]) == pytest.approx((1 - 0.9**6, 0.1, 0.6))


def test_half_a_piece_has_the_chance_of_the_whole_piece(genealogy: Genealogy) -> None:
    """Each piece of a mixture is cut in two: a half is of what its piece is of.

    purchased-lot A 10, B 90
    mixed-lot M 100
    machined-lot N 200
    A 10 + B 90 -> M : one-of
    M 100 -> N : per 0.5
    """
    assert numbers(genealogy.exposed_to("A")["N"]) == pytest.approx((0.1, 0.1, 0.1))


def test_several_pieces_of_one_thing_share_its_fate(genealogy: Genealogy) -> None:
    """Two metres of one bar that is of one of two heats.

    heat H48, H49
    bar-lot B 10 m
    unit U
    H48 1 + H49 3 -> B : either
    B 2 -> U : per 2
    """
    assert numbers(genealogy.exposed_to("H48")["U"]) == (0.25, 0.25, 0.25)


def test_several_draws_in_a_group_each_have_their_share(genealogy: Genealogy) -> None:
    """Each of 50 pieces has two screws, from two lots tipped together: 1 - 0.75 ** 2.

    purchased-lot A 25, B 75
    machined-lot M 50
    A 25 + B 75 -> M : one-of per 2
    """
    assert numbers(genealogy.exposed_to("A")["M"]) == pytest.approx((1 - 0.75**2, 0.25, 0.5))


def test_all_screws_of_an_unlabelled_bag_are_of_one_lot(genealogy: Genealogy) -> None:
    """Either all four are of A, or none: nothing is drawn four times.

    purchased-lot A 100, B 300
    unit U
    A 100 + B 300 -> U : either per 4
    """
    assert numbers(genealogy.exposed_to("A")["U"]) == (0.25, 0.25, 0.25)


def test_either_of_two_mixtures_is_drawn_from_several_times(genealogy: Genealogy) -> None:
    """Half of 1 - 0.9 ** 4: all four screws are of M, which is one tenth A, or of C.

    purchased-lot A 10, B 90, C 100
    mixed-lot M 100
    unit U
    A 10 + B 90 -> M : one-of
    M 100 + C 100 -> U : either per 4
    """
    seen = genealogy.exposed_to("A")["U"]
    assert numbers(seen) == pytest.approx((0.5 * (1 - 0.9**4), 0.05, 0.5 * 0.4))


def test_groups_combine_as_if_independent_and_say_how_far_off_that_may_be(
    genealogy: Genealogy,
) -> None:
    """1 - 0.9 * 0.8 = 0.28; at least the larger of the two, at most their sum.

    purchased-lot A 100, B 100
    mixed-lot M 10, N 10
    unit U
    A 1 + B 9 -> M : one-of
    A 2 + B 8 -> N : one-of
    M 1 -> U
    N 1 -> U
    """
    assert numbers(genealogy.exposed_to("A")["U"]) == pytest.approx((0.28, 0.2, 0.3))


def test_the_same_uncertain_can_twice_is_no_second_chance(genealogy: Genealogy) -> None:
    """Both lots were printed from one can that is of A at one in two; only the bounds know.

    powder-lot A 1, B 1
    powder-blend CAN 2
    printed-lot L 10, M 10
    unit U
    A 1 + B 1 -> CAN : either
    CAN 1 -> L
    CAN 1 -> M
    L 1 -> U
    M 1 -> U
    """
    assert numbers(genealogy.exposed_to("A")["U"]) == (0.75, 0.5, 1.0)


def test_a_blend_of_uncertain_cans_holds_the_source_if_any_does(genealogy: Genealogy) -> None:
    """Two cans, A at one in four and at one in two.

    powder-lot A 2, B 2
    powder-blend X 1, Y 1, P 2
    A 1 + B 3 -> X : either
    A 1 + B 1 -> Y : either
    X 1 + Y 1 -> P : blend
    """
    seen = genealogy.exposed_to("A")["P"]
    assert numbers(seen) == pytest.approx((1 - 0.75 * 0.5, 0.5, 0.75))
    assert not seen.certain


def test_a_mixture_of_mixtures(genealogy: Genealogy) -> None:
    """40 of 100 pieces are of M, which is one quarter A.

    purchased-lot A 10, B 30, C 60
    mixed-lot M 40, N 100
    A 10 + B 30 -> M : one-of
    M 40 + C 60 -> N : one-of
    """
    assert numbers(genealogy.exposed_to("A")["N"]) == pytest.approx((0.1, 0.1, 0.1))


def test_two_sources_add_up(genealogy: Genealogy) -> None:
    """Three tenths are suspect.

    purchased-lot A 10, B 20, C 70
    mixed-lot M 100
    A 10 + B 20 + C 70 -> M : one-of
    """
    assert genealogy.exposed_to("A", "B")["M"].chance == pytest.approx(0.3)


def test_a_carton_holds_all_that_was_packed_into_it(genealogy: Genealogy) -> None:
    """24 pieces of a lot one tenth bad: 1 - 0.9 ** 24, and surely no less than one piece has.

    purchased-lot A 10, B 90
    mixed-lot M 100
    carton C
    A 10 + B 90 -> M : one-of
    M 24 -> C
    """
    assert numbers(genealogy.exposed_to("A")["C"]) == pytest.approx((1 - 0.9**24, 0.1, 1.0))


def test_nobody_knows_how_many_pieces_are_in_a_carton(genealogy: Genealogy) -> None:
    """C has pieces of a mixture, D of the source itself.

    purchased-lot A 10, B 90
    mixed-lot M 100
    carton C, D
    A 10 + B 90 -> M : one-of
    M ? -> C
    A ? -> D
    """
    found = genealogy.exposed_to("A")
    assert numbers(found["C"]) == (None, 0.1, 1.0)
    assert found["D"][:2] == (True, 1.0)


def test_parts_ground_to_powder_are_all_in_it(genealogy: Genealogy) -> None:
    """Ten rejects of a lot one tenth bad are ground into a can: 1 - 0.9 ** 10.

    printed-lot A 10, B 90
    mixed-lot M 100
    powder-lot NEW 1
    powder-blend REGRIND 1.2
    A 10 + B 90 -> M : one-of
    M 10 + NEW 1 -> REGRIND : blend
    """
    seen = genealogy.exposed_to("A")["REGRIND"]
    assert numbers(seen) == pytest.approx((1 - 0.9**10, 0.1, 1.0))


def test_a_group_that_leads_nowhere_says_nothing(genealogy: Genealogy) -> None:
    """Shares among B and C are not known, and do not matter to A, seen from either end.

    purchased-lot A 10, B 10, C 10
    unit U
    A 1 -> U
    B ? + C ? -> U : either
    """
    assert genealogy.exposed_to("A")["U"][:2] == (True, 1.0)
    whole = genealogy.whole("A")
    assert expose(whole, whole.starts).chance == [1.0, 0.0, 0.0, 1.0]


def test_many_small_chances_do_not_vanish(genealogy: Genealogy) -> None:
    """One piece in a hundred million, two hundred times: the chance is 2e-6, not zero.

    purchased-lot A 1, B 99999999
    mixed-lot M 100000000
    unit U
    A 1 + B 99999999 -> M : one-of
    M 200 -> U : per 200
    """
    seen = genealogy.exposed_to("A")["U"]
    assert seen.chance == pytest.approx(2e-6, rel=1e-5)
    assert not seen.certain
