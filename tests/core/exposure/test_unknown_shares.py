"""Shares that cannot be known: then there are bounds only."""

from __future__ import annotations

import pytest

from tests.genealogies import Genealogy


def test_one_missing_quantity_leaves_bounds_only(genealogy: Genealogy) -> None:
    """Nobody wrote down how much of A went in.

    purchased-lot A 10, B 90
    mixed-lot M 100
    unit U
    A ? + B 90 -> M : one-of
    M 1 -> U
    """
    found = genealogy.exposed_to("A")
    assert found["M"] == found["U"] == (False, None, 0.0, 1.0, None, False)


def test_different_units_give_no_share(genealogy: Genealogy) -> None:
    """Metres of bar and pieces of B.

    bar-lot A 10 m
    purchased-lot B 90
    machined-lot M 100
    A 10 + B 90 -> M : one-of
    """
    assert genealogy.exposed_to("A")["M"].chance is None


def test_the_bounds_are_those_of_the_least_and_the_most_exposed_parent(
    genealogy: Genealogy,
) -> None:
    """M is one tenth A and N three tenths; how much of each went into K was not written down.

    purchased-lot A 100, B 100
    mixed-lot M 10, N 10, K 10
    A 1 + B 9 -> M : one-of
    A 3 + B 7 -> N : one-of
    M ? + N ? -> K : one-of
    """
    seen = genealogy.exposed_to("A")["K"]
    assert (seen.chance, seen.low, seen.high) == (None, 0.1, 0.3)


def test_a_parent_outside_can_have_given_everything(genealogy: Genealogy) -> None:
    """M is one tenth A; all of K may be C.

    purchased-lot A 100, B 100, C 10
    mixed-lot M 10, K 10
    A 1 + B 9 -> M : one-of
    M ? + C ? -> K : one-of
    """
    seen = genealogy.exposed_to("A")["K"]
    assert (seen.chance, seen.low, seen.high) == (None, 0.0, 0.1)


def test_a_single_parent_needs_no_quantity(genealogy: Genealogy) -> None:
    """There is nothing else that it could be.

    purchased-lot A 10
    machined-lot M 10
    A ? -> M : one-of
    """
    assert genealogy.exposed_to("A")["M"][:2] == (True, 1.0)


def test_certainty_does_not_ask_for_shares(genealogy: Genealogy) -> None:
    """Both parents are suspect.

    purchased-lot A 10, B 10
    mixed-lot M 20
    A ? + B ? -> M : one-of
    """
    assert genealogy.exposed_to("A", "B")["M"].certain


def test_a_certain_component_makes_up_for_an_unknown_one(genealogy: Genealogy) -> None:
    """A is in U twice, once for certain.

    purchased-lot A 10, B 10
    unit U
    A ? + B ? -> U : either
    A 1 -> U
    """
    assert genealogy.exposed_to("A")["U"][:2] == (True, 1.0)


def test_an_unknown_chance_stays_unknown_further_down(genealogy: Genealogy) -> None:
    """Low is that of the known component, high their sum.

    purchased-lot A 100, B 100
    mixed-lot M 10, K 10
    unit U
    A 1 + B 9 -> M : one-of
    A ? + B ? -> K : one-of
    M 1 -> U
    K 1 -> U
    """
    seen = genealogy.exposed_to("A")["U"]
    assert (seen.chance, seen.low, seen.high) == (None, 0.1, 1.0)


def test_several_draws_from_an_unknown_mixture_widen_the_bounds(genealogy: Genealogy) -> None:
    """Six draws, each one hundredth at the most.

    purchased-lot A 100, B 100, C 10
    mixed-lot M 100, K 10
    unit U
    A 1 + B 99 -> M : one-of
    M ? + C ? -> K : one-of
    K 6 -> U : per 6
    """
    seen = genealogy.exposed_to("A")["U"]
    assert (seen.chance, seen.low) == (None, 0.0)
    assert seen.high == pytest.approx(0.06)


def test_quantities_of_zero_are_no_shares(genealogy: Genealogy) -> None:
    """Nothing divided by nothing.

    purchased-lot A 1, B 1
    mixed-lot M 2
    A 0 + B 0 -> M : one-of
    """
    assert genealogy.exposed_to("A")["M"].chance is None
