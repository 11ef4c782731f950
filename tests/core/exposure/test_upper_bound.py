"""No more units can be affected than there are pieces to affect them."""

from __future__ import annotations

from lotkin.core.exposure.exposure import expose
from lotkin.core.exposure.upper_bound import at_most_units
from lotkin.core.values.places import End, Spot
from lotkin.core.values.quantities import MICRO
from tests.genealogies import Genealogy, read_genealogy


def most(genealogy: Genealogy, *starts: str, stock: dict[str, dict[str, int]] | None = None) -> int:
    """Bound the units; `stock` says how many pieces of what lie where."""
    reach = genealogy.below(*starts)
    at = {
        reach.nodes.code.index(code): {Spot(place): n * MICRO for place, n in spots.items()}
        for code, spots in (stock or {}).items()
    }
    return at_most_units(reach, expose(reach, reach.starts), at)


def units(count: int, of: str) -> str:
    """Write so many units with a piece of a lot each."""
    return "\n".join(f"unit U{i}\n{of} 1 -> U{i}" for i in range(count))


def test_ten_suspect_pieces_in_a_hundred_affect_ten_units() -> None:
    genealogy = read_genealogy(
        "purchased-lot A 10, B 90\nmixed-lot M 100\nA 10 + B 90 -> M : one-of\n" + units(100, "M")
    )
    assert most(genealogy, "A") == 10
    assert most(genealogy, "B") == 90
    assert most(genealogy, "A", "B") == 100


def test_only_what_went_in_counts_not_the_whole_lot() -> None:
    """Three of the ten pieces of A went into the mixture."""
    genealogy = read_genealogy(
        "purchased-lot A 10, B 90\nmixed-lot M 40\nA 3 + B 37 -> M : one-of\n" + units(40, "M")
    )
    assert most(genealogy, "A") == 3


def test_fewer_units_than_pieces_are_at_most_all_units() -> None:
    genealogy = read_genealogy("purchased-lot A 10\n" + units(4, "A"))
    assert most(genealogy, "A") == 4


def test_two_mixtures_add_up(genealogy: Genealogy) -> None:
    """One suspect piece went into each of two mixtures.

    purchased-lot A 10, B 10
    mixed-lot M 3, N 3
    unit U1, U2, U3, U4
    A 1 + B 2 -> M : one-of
    A 1 + B 2 -> N : one-of
    M 1 -> U1
    M 1 -> U2
    N 1 -> U3
    N 1 -> U4
    """
    assert most(genealogy, "A") == 2


def test_a_heat_has_no_number_of_pieces_but_its_lots_have(genealogy: Genealogy) -> None:
    """Two parts of the heat went into a mixture of a hundred.

    heat H
    bar-lot BAR 3 m
    machined-lot M 2, N 100
    mixed-lot MIX 100
    unit U1, U2, U3
    H -> BAR
    BAR 1 -> M
    M 2 + N 98 -> MIX : one-of
    MIX 1 -> U1
    MIX 1 -> U2
    MIX 1 -> U3
    """
    assert most(genealogy, "H") == 2


def test_found_pieces_may_all_be_of_the_suspect_lot(genealogy: Genealogy) -> None:
    """Three pieces without a label: the book shares them out, the truth does not.

    purchased-lot A 20, B 20
    mixed-lot F 3
    unit U1, U2, U3
    A 1 + B 2 -> F : either
    F 1 -> U1
    F 1 -> U2
    F 1 -> U3
    """
    assert most(genealogy, "A") == 3


def test_a_tool_is_one_piece_and_touches_any_number_of_units(genealogy: Genealogy) -> None:
    """One tool, used at both units.

    tool T 1 pcs
    unit U1, U2
    T -> U1
    T -> U2
    """
    assert most(genealogy, "T") == 2


def test_one_bar_is_cut_into_many_parts(genealogy: Genealogy) -> None:
    """Bars counted in pieces, and fewer of them than there are parts.

    bar-lot A 1 pcs
    machined-lot M 3
    unit U1, U2, U3
    A 1 -> M
    M 1 -> U1
    M 1 -> U2
    M 1 -> U3
    """
    assert most(genealogy, "A") == 3


def test_a_tube_of_glue_is_in_several_units(genealogy: Genealogy) -> None:
    """A tenth of the tube goes into each.

    purchased-lot GLUE 1
    bench-setup S
    unit U1, U2, U3
    GLUE -> S : per 0.1
    S 1 -> U1
    S 1 -> U2
    GLUE 0.1 -> U3 : per 0.1
    """
    assert most(genealogy, "GLUE") == 3


def test_ground_parts_are_in_all_of_the_blend(genealogy: Genealogy) -> None:
    """One piece of A, ground with nine of B.

    purchased-lot A 1, B 9
    machined-lot M 3
    unit U1, U2, U3
    A 1 + B 9 -> M : blend
    M 1 -> U1
    M 1 -> U2
    M 1 -> U3
    """
    assert most(genealogy, "A") == 3


def test_a_unit_asked_about_counts_itself(genealogy: Genealogy) -> None:
    """Two pumps make a set.

    unit U1, U2, SET
    U1 1 -> SET
    U2 1 -> SET
    """
    assert most(genealogy, "U1") == 2
    assert most(genealogy, "SET") == 1


def test_a_setup_asked_about_is_in_all_its_units(genealogy: Genealogy) -> None:
    """Two units built at one setup.

    purchased-lot A 10
    bench-setup S
    unit U1, U2
    A -> S
    S 1 -> U1
    S 1 -> U2
    """
    assert most(genealogy, "S") == 2


def test_more_was_used_than_was_counted(genealogy: Genealogy) -> None:
    """A had two pieces by the book and three units got one: the book cannot bound them.

    purchased-lot A 2
    unit U1, U2, U3
    A 1 -> U1
    A 1 -> U2
    A 1 -> U3
    """
    assert most(genealogy, "A") == 3


def test_a_serial_counts_once_and_only_as_it_is_now(genealogy: Genealogy) -> None:
    """U was repaired and keeps its piece of A; the piece of V was taken out.

    purchased-lot A 2, B 2
    unit U, U/2, V, V/2
    A 1 -> U
    A 1 -> V
    U 1 -> U/2 : former
    A 1 -> U/2
    V 1 -> V/2 : former
    B 1 -> V/2
    """
    assert most(genealogy, "A") == 1


def test_two_pieces_in_a_unit_as_it_is_now_do_not_count_one_that_a_repair_has_freed(
    genealogy: Genealogy,
) -> None:
    """Two pieces of A are in U; the one that was in V was taken out.

    purchased-lot A 3, B 1
    unit U, V, V/2
    A 1 -> U
    A 1 -> U
    A 1 -> V
    V 1 -> V/2 : former
    B 1 -> V/2
    """
    assert most(genealogy, "A") == 1


def test_units_of_a_setup_are_bound_by_what_is_mounted() -> None:
    text = "purchased-lot A 2, B 8\nmixed-lot M 10\nbench-setup S\n"
    text += "A 2 + B 8 -> M : one-of\nM -> S : per 1\n"
    text += "\n".join(f"unit U{i}\nS 1 -> U{i}" for i in range(10))
    assert most(read_genealogy(text), "A") == 2


def test_nothing_is_concluded_from_quantities_that_are_missing(genealogy: Genealogy) -> None:
    """One sheet may have been cut into all three.

    purchased-lot SHEETS 1
    machined-lot M 3
    unit U1, U2, U3
    SHEETS ? -> M
    M 1 -> U1
    M 1 -> U2
    M 1 -> U3
    """
    assert most(genealogy, "SHEETS") == 3
    assert most(genealogy, "M") == 3


def test_pieces_that_are_mixed_on_and_on_stay_as_many_as_they_were() -> None:
    """Four of A went into M, what M left went into N with more: four in all, not four in each."""
    text = "purchased-lot A 4, B 6, C 5\nmixed-lot M 10, N 10\n"
    text += "A 4 + B 6 -> M : one-of\nM 5 + C 5 -> N : one-of\n"
    text += "\n".join(f"unit U{i}\nM 1 -> U{i}" for i in range(5)) + "\n"
    text += "\n".join(f"unit V{i}\nN 1 -> V{i}" for i in range(10))
    assert most(read_genealogy(text), "A") == 4


def test_what_lies_in_its_lot_or_was_scrapped_from_it_is_in_no_unit() -> None:
    """Of six of A two lie on the shelf and one is scrapped: three units of seven at most."""
    text = "purchased-lot A 6, B 6\nmixed-lot M 9\nA 3 + B 6 -> M : one-of\n" + units(7, "M")
    genealogy = read_genealogy(text)
    assert most(genealogy, "A", stock={"A": {"SHELF": 2, "scrap": 1}}) == 3
    # of the mixture seven of nine were built in
    assert most(genealogy, "A", "B", stock={"M": {"SHELF": 2}}) == 7


def test_pieces_that_were_lost_may_be_anywhere(genealogy: Genealogy) -> None:
    """Two of three are missing by a count; they may be the two that are built in.

    purchased-lot A 3
    unit U1, U2
    A 1 -> U1
    A 1 -> U2
    """
    assert most(genealogy, "A", stock={"A": {"lost": 2}}) == 2


def test_a_surplus_bounds_nothing() -> None:
    """Two more were counted than there were: of which lot the pieces are, nobody knows."""
    text = "purchased-lot A 1, B 3\nmixed-lot M 4\nA 1 + B 3 -> M : one-of\n" + units(4, "M")
    genealogy = read_genealogy(text)
    assert most(genealogy, "A") == 1
    assert most(genealogy, "A", stock={"M": {str(End.LOST): -2}}) == 4


def test_a_unit_that_may_hold_one_of_two_lots_takes_no_more_than_there_are() -> None:
    """Five of T, six units: one was begun before the change of the bin and may hold one of X."""
    text = "purchased-lot X 1, T 5\nbench-setup EARLY, LATE\nX -> EARLY : per 1\n"
    text += "T -> LATE : per 1\nunit U0\nEARLY ? + LATE 1 -> U0 : either\n"
    text += "\n".join(f"unit U{i}\nLATE 1 -> U{i}" for i in range(1, 6))
    assert most(read_genealogy(text), "T") == 5


def test_what_an_old_state_of_a_unit_had_is_not_drawn_again() -> None:
    text = "purchased-lot A 1, B 1\nunit U, U/2, V\nA 1 -> U\nU 1 -> U/2 : former\n"
    text += "B 1 -> U/2\nA ? + B ? -> V : one-of"
    assert most(read_genealogy(text), "A") == 1


def test_nothing_is_concluded_from_a_lot_that_is_below_zero_somewhere(
    genealogy: Genealogy,
) -> None:
    """Pieces came from where there were none, so those that lie elsewhere may lie there twice.

    machined-lot A 30
    unit U1, U2
    A 1 -> U1
    A 1 -> U2
    """
    stock = {"A": {"RED-BOX": 29, "BENCH": 10, "SHELF": -11}}
    assert most(genealogy, "A", stock=stock) == 2
    assert most(genealogy, "A", stock={"A": {"RED-BOX": 29, End.USED_IN: 2}}) == 1
