"""Tables checked as a whole: codes, times and quantities."""

from __future__ import annotations

from lotkin.core.genealogy.items import Item
from lotkin.core.plain_tables import Problem, check_tables, circle_in, read_items, read_links
from lotkin.core.values.quantities import LARGEST
from tests.core.plain_tables.small_tables import NOTHING, Recorded, complaints, lines_of


def test_tables_that_fit_are_left_alone() -> None:
    items = "A-1,,,100,pcs,2026-01-01\nU-1,unit,,1,pcs,2026-01-01\n"
    assert complaints(items, "A-1,U-1,100,,,\n") == []


def test_an_item_that_is_recorded_already_is_told() -> None:
    recorded = Recorded(Item("A-1", "purchased-lot"))
    assert complaints("A-1,,,,,\n", "", recorded) == [
        "items.csv line 2, column code: A-1 is recorded already"
    ]


def test_unknown_ends_of_a_link_are_told() -> None:
    assert complaints("A-1,,,,,\n", "X-1,Y-1,,,,\nA-1,X-1,,,,\n") == [
        "links.csv line 2, column parent: X-1 is neither in items.csv nor recorded",
        "links.csv line 2, column child: Y-1 is neither in items.csv nor recorded",
        "links.csv line 3, column child: X-1 is neither in items.csv nor recorded",
    ]
    assert complaints("", "X-1,Y-1,,,,\n", items_name="")[0] == (
        "links.csv line 2, column parent: X-1 is not recorded"
    )


def test_unknown_ends_are_not_told_when_the_items_could_not_be_read() -> None:
    problems: list[Problem] = []
    items = read_items("items.csv", [b"nonsense\n"], problems)
    links = read_links("links.csv", lines_of("parent,child,quantity\nA,B,1\n"), items, problems)
    assert check_tables(items, links, NOTHING) == []
    assert len(problems) == 1


def test_a_child_older_than_its_parent_is_told() -> None:
    items = "A-1,,,,,2026-03-01T08:00:00Z\nB-1,,,,,2026-03-01T07:59:59Z\nC-1,,,,,\n"
    assert complaints(items, "A-1,B-1,,,,\nA-1,C-1,,,,\nC-1,B-1,,,,\n") == [
        (
            "links.csv line 2, column child: B-1 (2026-03-01T07:59:59Z) is older than "
            "A-1 (2026-03-01T08:00:00Z) that it is made from"
        )
    ]


def test_an_inspection_may_be_younger_than_what_it_looked_at() -> None:
    items = "I-1,inspection,,,,2026-03-02\nB-1,,,,,2026-03-01\n"
    assert complaints(items, "I-1,B-1,,,,\n") == []


def test_a_gauge_may_be_younger_than_the_unit_it_tested_but_not_than_a_lot() -> None:
    items = "G-1,gauge,,,,2026-03-02\nU-1,unit,,1,,2026-03-01\nB-1,,,,,2026-03-01\n"
    assert complaints(items, "G-1,U-1,,,,\n") == []
    assert len(complaints(items, "G-1,B-1,,,,\n")) == 1


def test_the_row_that_goes_below_zero_is_told() -> None:
    items = "A-1,,,100,pcs,\nB-1,,,,,\nC-1,,,,,\nD-1,,,,,\n"
    assert complaints(items, "A-1,B-1,88,,,\nA-1,C-1,70,,,\nA-1,D-1,12,,,\n") == [
        "links.csv line 3, column quantity: 70 pcs taken from A-1, 12 pcs are left"
    ]


def test_an_item_without_a_quantity_gives_whatever_is_taken() -> None:
    assert complaints("H-1,heat,,,,\nB-1,bar-lot,,3000,m,\n", "H-1,B-1,3000,,,\n") == []


def test_sums_stay_in_bounds_even_where_nobody_knows_the_quantity() -> None:
    links = f"A-1,B-1,{LARGEST},,,\nA-1,C-1,0.000001,,,\n"
    assert complaints("A-1,,,,kg,\nB-1,,,,,\nC-1,,,,,\n", links) == [
        (
            "links.csv line 3, column quantity: 0.000001 kg taken from A-1: with the rows before, "
            "more than any works holds"
        )
    ]


def test_packing_takes_nothing_away() -> None:
    items = "A-1,,,10,pcs,\nK-1,carton,,,,\nS-1,shipment,,,,\nB-1,,,,,\n"
    assert complaints(items, "A-1,K-1,10,,,\nA-1,S-1,10,,,\nA-1,B-1,10,,,\n") == []


def test_a_tool_is_not_used_up() -> None:
    items = "T-1,tool,,1,,\nR-1,machining-run,,,,\nR-2,machining-run,,,,\n"
    assert complaints(items, "T-1,R-1,1,,,\nT-1,R-2,1,,,\n") == []


def test_a_bench_setup_has_no_pieces_of_its_own() -> None:
    items = "B:1,bench-setup,,,,\nU-1,unit,,1,,\nU-2,unit,,1,,\n"
    assert complaints(items, "B:1,U-1,,,,\nB:1,U-2,1,,,\n") == [
        (
            "links.csv line 3, column quantity: B:1 is a bench-setup and has no pieces of its own; "
            "leave this empty"
        )
    ]


def test_a_recorded_child_is_left_to_its_event() -> None:
    recorded = Recorded(Item("B-1", "machined-lot"))
    assert complaints("A-1,,,,,\n", "A-1,B-1,,,,\n", recorded) == [
        "links.csv line 2, column child: B-1 is recorded already; amend its event instead"
    ]


def test_a_recorded_child_may_take_parents_as_long_as_that_is_open() -> None:
    recorded = Recorded(Item("B-1", "machined-lot"), takes_parents=True)
    assert complaints("A-1,,,,,\n", "A-1,B-1,,,,\n", recorded) == []


def test_a_recorded_parent_gives_what_is_left_of_it() -> None:
    recorded = Recorded(Item("A-1", "purchased-lot", quantity=10**8, unit="pcs"), left=12 * 10**6)
    items = "B-1,,,,,\nC-1,,,,,\n"
    assert complaints(items, "A-1,B-1,10,,,\nA-1,C-1,70,,,\n", recorded) == [
        (
            "links.csv line 3, column quantity: 70 pcs taken from A-1, "
            "2 pcs are left of what was imported"
        )
    ]
    unknown = Recorded(Item("A-1", "purchased-lot", quantity=None, unit="pcs"))
    assert complaints(items, "A-1,B-1,10,,,\n", unknown) == []


def test_a_recorded_parent_may_be_too_young() -> None:
    recorded = Recorded(Item("A-1", "purchased-lot", made_at=10**15 * 2))
    (problem,) = complaints("B-1,,,,,2026-03-01\n", "A-1,B-1,,,,\n", recorded)
    assert "column child: B-1 (2026-03-01T00:00:00Z) is older than A-1 (2033-" in problem


def test_a_circle_is_found_among_the_rows() -> None:
    problems: list[Problem] = []
    items = read_items("items.csv", [b"code,kind,part,quantity,unit,made_at\n"], problems)
    rows = "parent,child,quantity\nB,C,\nC,A,\nA,B,\nA,D,\n"
    links = read_links("links.csv", lines_of(rows), items, problems)
    assert circle_in(links) == ["A", "B", "C", "A"]
