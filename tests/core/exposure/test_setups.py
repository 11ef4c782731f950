"""Bench setups mean exactly what linking each unit to each lot would mean."""

from __future__ import annotations

import pytest

from tests.genealogies import Genealogy


def test_a_unit_has_what_was_mounted(genealogy: Genealogy) -> None:
    """Two positions, one of them with six pieces a unit.

    purchased-lot A 10, B 100
    bench-setup S
    unit U
    A -> S : per 1
    B -> S : per 6
    S 1 -> U
    """
    assert genealogy.exposed_to("A")["U"].certain
    assert genealogy.exposed_to("B")["U"].certain


def test_a_setup_draws_for_each_unit_as_the_unit_itself_would(genealogy: Genealogy) -> None:
    """U is built through a setup, V is linked to the same lots one by one.

    purchased-lot A 10, B 90, C 30, D 70
    mixed-lot M 100, N 100
    bench-setup S
    unit U, V
    A 10 + B 90 -> M : one-of
    A 10 + D 90 -> N : one-of
    M -> S : per 6
    N -> S : per 1
    S 1 -> U
    M 6 -> V : per 6
    N 1 -> V
    """
    found = genealogy.exposed_to("A")
    assert found["U"] == found["V"]
    assert found["U"].chance == pytest.approx(1 - 0.9**7)


def test_a_unit_begun_before_a_change_may_have_either_lot(genealogy: Genealogy) -> None:
    """B took the place of A, C stayed: C is certain, A and B possible, by no known share.

    purchased-lot A 10, B 10, C 100
    bench-setup S1, S2
    unit U
    A -> S1
    C -> S1 : per 2
    B -> S2
    C -> S2 : per 2
    S1 ? + S2 1 -> U : either
    """
    for lot in ("A", "B"):
        assert genealogy.exposed_to(lot)["U"] == (False, None, 0.0, 1.0, None, False)
    assert genealogy.exposed_to("C")["U"][:2] == (True, 1.0)


def test_either_setup_with_a_mixture_bounds_by_the_worse_one(genealogy: Genealogy) -> None:
    """U was begun under S1 and finished under S2.

    purchased-lot A 10, B 90, C 10
    mixed-lot M 100
    bench-setup S1, S2
    unit U
    A 10 + B 90 -> M : one-of
    M -> S1 : per 2
    C -> S2 : per 2
    S1 ? + S2 1 -> U : either
    """
    seen = genealogy.exposed_to("A")["U"]
    assert (seen.chance, seen.low) == (None, 0.0)
    assert seen.high == pytest.approx(0.2)


def test_a_lot_at_two_positions_is_drawn_from_at_both(genealogy: Genealogy) -> None:
    """One mixture, mounted twice.

    purchased-lot A 10, B 90
    mixed-lot M 100
    bench-setup S
    unit U
    A 10 + B 90 -> M : one-of
    M -> S
    M -> S
    S 1 -> U
    """
    seen = genealogy.exposed_to("A")["U"]
    assert (seen.chance, seen.low, seen.high) == pytest.approx((0.19, 0.1, 0.2))
