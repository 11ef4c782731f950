"""States of a serial: what is gone is marked, never forgotten."""

from __future__ import annotations

from tests.genealogies import Genealogy


def test_what_was_taken_out_is_marked_as_removed(genealogy: Genealogy) -> None:
    """The motor of U was swapped; screws and case stayed.

    purchased-lot MOTORS 10, OTHERS 10, SCREWS 100
    unit U, U/2
    MOTORS 1 -> U
    SCREWS 6 -> U : per 6
    U 1 -> U/2 : former
    SCREWS 6 -> U/2 : per 6
    OTHERS 1 -> U/2
    """
    motors = genealogy.exposed_to("MOTORS")
    assert motors["U"].certain
    assert motors["U/2"] == (False, 0.0, 0.0, 0.0, 0.0, True)
    screws = genealogy.exposed_to("SCREWS")
    assert (screws["U/2"].removed, screws["U/2"].certain) == (False, True)
    assert set(genealogy.exposed_to("OTHERS")) == {"OTHERS", "U/2"}


def test_what_left_in_one_state_can_come_back_in_a_later_one(genealogy: Genealogy) -> None:
    """A was taken out for B, and later A was fitted again.

    purchased-lot A 10, B 10
    unit U, U/2, U/3
    A 1 -> U
    U 1 -> U/2 : former
    B 1 -> U/2
    U/2 1 -> U/3 : former
    A 1 -> U/3
    """
    found = genealogy.exposed_to("A")
    assert [found[state].removed for state in ("U", "U/2", "U/3")] == [False, True, False]
    assert found["U/3"].certain


def test_what_holds_a_state_without_the_source_is_marked_too(genealogy: Genealogy) -> None:
    """The repaired pump went into a set and a carton; the dismantled one's motor into V.

    purchased-lot A 10, B 10
    unit U, U/2, SET, V
    carton C
    A 1 -> U
    U 1 -> U/2 : former
    B 1 -> U/2
    U/2 1 -> SET
    SET 1 -> C
    A 1 -> V
    """
    found = genealogy.exposed_to("A")
    assert [found[code].removed for code in ("U/2", "SET", "C", "V")] == [True, True, True, False]


def test_a_removed_alternative_counts_as_spared(genealogy: Genealogy) -> None:
    """One of two repaired units went into the set, nobody knows which; only W still has A.

    purchased-lot A 10, B 10
    unit U, U/2, W, SET
    A 1 -> U
    A 1 -> W
    U 1 -> U/2 : former
    B 1 -> U/2
    U/2 1 + W 1 -> SET : either
    """
    seen = genealogy.exposed_to("A")["SET"]
    assert (seen.certain, seen.chance, seen.removed) == (False, 0.5, False)


def test_a_state_can_be_asked_about_itself(genealogy: Genealogy) -> None:
    """A repair that changed no component.

    purchased-lot A 10
    unit U, U/2
    A 1 -> U
    U 1 -> U/2 : former
    A 1 -> U/2
    """
    assert genealogy.exposed_to("U")["U/2"].removed
    assert set(genealogy.exposed_to("U/2")) == {"U/2"}


def test_resources_of_the_old_state_stay_with_it(genealogy: Genealogy) -> None:
    """U was measured with G before it was repaired.

    gauge G
    purchased-lot A 10
    unit U, U/2
    G -> U
    A 1 -> U
    U 1 -> U/2 : former
    A 1 -> U/2
    """
    found = genealogy.exposed_to("G")
    assert (found["U"].certain, found["U/2"].removed) == (True, True)
    assert found["U/2"].content is None
