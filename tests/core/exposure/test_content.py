"""The expected fraction of the source in an item's material."""

from __future__ import annotations

import pytest

from tests.genealogies import Genealogy


def test_content_of_a_blend_is_its_share(genealogy: Genealogy) -> None:
    """2 of 8 kg, and 8 of 10.

    powder-lot A 2, B 6
    powder-blend P 8, Q 10
    powder-lot C 2
    printed-lot L 50
    A 2 + B 6 -> P : blend
    P 8 + C 2 -> Q : blend
    Q 1 -> L
    """
    found = genealogy.exposed_to("A")
    assert [found[code].content for code in "APQL"] == pytest.approx([1, 0.25, 0.2, 0.2])


@pytest.mark.parametrize("lot", ["M", "E"])
def test_content_of_a_mixture_is_expected_by_share(genealogy: Genealogy, lot: str) -> None:
    """Thirty of a hundred, piece by piece or all at once.

    purchased-lot A 30, B 70
    mixed-lot M 100, E 100
    A 30 + B 70 -> M : one-of
    A 30 + B 70 -> E : either
    """
    assert genealogy.exposed_to("A")[lot].content == pytest.approx(0.3)


def test_content_of_a_unit_is_the_highest_of_its_components(genealogy: Genealogy) -> None:
    """A housing one tenth A, and tips one quarter X.

    powder-lot A 1, B 9
    powder-blend P 10
    printed-lot L 10
    purchased-lot C 30, X 10, Y 10
    mixed-lot M 40
    unit U
    A 1 + B 9 -> P : blend
    P 1 -> L
    X 10 + C 30 -> M : one-of
    L 1 -> U
    M 2 -> U : per 2
    Y 1 -> U
    """
    assert genealogy.exposed_to("A")["U"].content == pytest.approx(0.1)
    assert genealogy.exposed_to("X")["U"].content == pytest.approx(0.25)
    assert genealogy.exposed_to("A", "X")["U"].content == pytest.approx(0.25)
    assert genealogy.exposed_to("A", "Y")["U"].content == 1.0


def test_runs_resources_and_packs_have_no_content(genealogy: Genealogy) -> None:
    """What a run or a bath did to a lot is no part of its material.

    machine MC
    machining-run R
    machined-lot M 10
    purchased-lot DYE 5
    bath BATH
    finishing-load F
    treated-lot T 10
    carton C
    MC -> R
    R -> M
    DYE 1 -> BATH
    BATH -> F
    F -> T
    M 10 -> T
    T 5 -> C
    """
    assert {seen.content for seen in genealogy.exposed_to("R").values()} == {None}
    assert {seen.content for seen in genealogy.exposed_to("MC", "DYE").values()} == {None}
    dyed = genealogy.exposed_to("DYE")
    assert {code: seen.content for code, seen in dyed.items() if code != "DYE"} == dict.fromkeys(
        ("BATH", "F", "T", "C")
    )
    assert genealogy.exposed_to("M")["T"].content == 1.0


def test_content_is_unknown_where_a_share_is(genealogy: Genealogy) -> None:
    """How much of A was never weighed.

    powder-lot A 1, B 9
    powder-blend P 10
    A ? + B 9 -> P : blend
    """
    assert genealogy.exposed_to("A")["P"].content is None


def test_an_unknown_component_may_hold_more_than_the_known_ones(genealogy: Genealogy) -> None:
    """A threshold must not drop U for the 0.001 that is known of it.

    powder-lot A 1, B 999
    powder-blend P 1000
    printed-lot L 10, X 10
    mixed-lot M 10
    unit U, V
    A 1 + B 999 -> P : blend
    P 1 -> L
    A ? + B ? -> X
    L ? + X ? -> M : one-of
    L 1 -> U
    M 1 -> U
    M 1 -> V
    A 1 -> V
    """
    assert genealogy.exposed_to("A")["U"].content is None
    assert genealogy.exposed_to("A")["V"].content == 1.0


def test_content_never_exceeds_one(genealogy: Genealogy) -> None:
    """The shares are no round numbers in binary.

    powder-lot A 0.1, B 0.2, C 0.3
    powder-blend P 0.6
    A 0.1 + B 0.2 + C 0.3 -> P : blend
    """
    assert genealogy.exposed_to("A", "B", "C")["P"].content == pytest.approx(1.0, abs=1e-12)
    assert (genealogy.exposed_to("A", "B", "C")["P"].content or 0.0) <= 1.0
