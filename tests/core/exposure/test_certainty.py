"""Who belongs, and who belongs for certain: by the links alone."""

from __future__ import annotations

from tests.genealogies import Genealogy, read_genealogy


def test_each_passes_certainty_on(genealogy: Genealogy) -> None:
    """From the heat to the unit, all of one.

    heat H
    bar-lot B 3 m
    machined-lot M 100
    unit U
    H -> B
    B 3 -> M
    M 1 -> U
    """
    found = genealogy.exposed_to("H")
    assert set(found) == {"H", "B", "M", "U"}
    assert all(seen.certain and seen.chance == 1.0 for seen in found.values())


def test_one_of_several_is_possible_only(genealogy: Genealogy) -> None:
    """Ten of A and ninety of B were tipped together.

    purchased-lot A 10, B 90
    mixed-lot M 100
    unit U
    A 10 + B 90 -> M : one-of
    M 1 -> U
    """
    found = genealogy.exposed_to("A")
    assert [found[code].certain for code in ("A", "M", "U")] == [True, False, False]


def test_a_mixture_of_nothing_but_suspects_is_certain(genealogy: Genealogy) -> None:
    """Both lots of the mixture are suspect.

    purchased-lot A 10, B 90
    mixed-lot M 100
    A 10 + B 90 -> M : one-of
    """
    assert genealogy.exposed_to("A", "B")["M"].certain


def test_alternatives_that_are_all_suspect_are_certain(genealogy: Genealogy) -> None:
    """Whichever tool was in the machine, both are of the one bad delivery.

    source-lot L
    tool T1, T2
    machining-run R
    L -> T1
    L -> T2
    T1 + T2 -> R : either
    """
    assert genealogy.exposed_to("L")["R"].certain
    assert not genealogy.exposed_to("T1")["R"].certain


def test_a_possible_lot_tipped_onto_a_certain_one_makes_nothing_certain(
    genealogy: Genealogy,
) -> None:
    """M may hold some of A; it was tipped together with what is A for certain.

    purchased-lot A 20, B 90
    mixed-lot M 100, N 110
    A 10 + B 90 -> M : one-of
    A 10 + M 100 -> N : one-of
    """
    assert not genealogy.exposed_to("A")["N"].certain


def test_a_blend_holds_all_of_its_parents_for_certain(genealogy: Genealogy) -> None:
    """One hundredth is new.

    powder-lot NEW 1, OLD 99
    powder-blend P 100
    NEW 1 + OLD 99 -> P : blend
    """
    assert genealogy.exposed_to("NEW")["P"].certain
    assert genealogy.exposed_to("OLD")["P"].certain


def test_one_certain_way_is_enough(genealogy: Genealogy) -> None:
    """The unit may have A through the mixture, and has it as a component.

    purchased-lot A 50, B 50
    mixed-lot M 20
    unit U
    A 10 + B 10 -> M : one-of
    M 1 -> U
    A 1 -> U
    """
    assert genealogy.exposed_to("A")["U"].certain


def test_possible_stays_possible_on_the_way_down(genealogy: Genealogy) -> None:
    """The can is of A or of B, and nobody knows of which.

    powder-lot A 1, B 1
    powder-blend CAN 1, P 2
    printed-lot L 10
    A 1 + B 1 -> CAN : either
    CAN 1 + B 1 -> P : blend
    P 1 -> L
    """
    found = genealogy.exposed_to("A")
    assert not any(found[code].certain for code in ("CAN", "P", "L"))
    assert all(genealogy.exposed_to("B")[code].certain for code in ("P", "L"))


def test_runs_expose_what_came_out_of_them_and_nothing_that_went_in(genealogy: Genealogy) -> None:
    """Trays kept apart in one outside batch: its where-used is both, that of A is A1 alone.

    purchased-lot A 10, B 10
    outside-batch BATCH
    treated-lot A1 10, B1 10
    A 10 -> A1
    B 10 -> B1
    BATCH -> A1
    BATCH -> B1
    """
    assert set(genealogy.exposed_to("BATCH")) == {"BATCH", "A1", "B1"}
    assert set(genealogy.exposed_to("A")) == {"A", "A1"}


def test_several_lots_known_to_be_in_one_unit_are_all_in_it(genealogy: Genealogy) -> None:
    """Six screws in one unit, four of one lot and two of another: it has both for certain.

    purchased-lot A 100, B 100
    unit U
    A 4 + B 2 -> U : one-of per 6
    """
    for lot in ("A", "B"):
        assert genealogy.exposed_to(lot)["U"][:2] == (True, 1.0)


def test_a_single_screw_is_of_one_lot_whatever_the_weights(genealogy: Genealogy) -> None:
    """The quantities say how likely each lot is, not what is in U.

    purchased-lot A 100, B 100
    unit U
    A 50 + B 150 -> U : one-of
    """
    assert genealogy.exposed_to("A")["U"][:2] == (False, 0.25)


def test_a_single_piece_left_of_a_mixture_is_of_one_lot(genealogy: Genealogy) -> None:
    """After nine of ten were identified, halves are left of both parents.

    purchased-lot A 5, B 5
    mixed-lot M 1
    A 0.5 + B 0.5 -> M : one-of
    """
    assert genealogy.exposed_to("A")["M"][:2] == (False, 0.5)


def test_what_is_not_below_is_not_reached(genealogy: Genealogy) -> None:
    """Two units that share nothing.

    purchased-lot A 1, B 1
    unit U, V
    A 1 -> U
    B 1 -> V
    """
    assert set(genealogy.exposed_to("A")) == {"A", "U"}


def test_membership_outlives_the_number() -> None:
    """A blend refreshed two thousand times: the share underflows, membership does not."""
    lines = ["powder-lot L 1", "powder-blend P0 2", "L 1 -> P0"]
    for i in range(1, 2001):
        lines += [f"powder-blend P{i} 2", f"powder-lot N{i} 1"]
        lines += [f"P{i - 1} 1 + N{i} 1 -> P{i} : blend"]
    found = read_genealogy("\n".join(lines)).exposed_to("L")
    assert len(found) == 2002
    assert found["P2000"].content == 0.0
    assert found["P2000"].certain
