"""Circles in the bill of material."""

from __future__ import annotations

import networkx as nx
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.plan import check_plan
from tests.core.plan.small_shop import changed, line_in, only


def bill(needs: list[tuple[int, int]]) -> list[str]:
    """Check a plan of parts P0 to P9 that need each other, and give the messages."""
    parts = [
        {
            "code": f"P{number}",
            "name": "Part",
            "revision": "1",
            "kind": "unit",
            "unit": "kg",
            "need": [
                {"part": f"P{needed}", "per": 1} for owner, needed in needs if owner == number
            ],
        }
        for number in range(10)
    ]
    _, problems = check_plan({"works": {"name": "W", "timezone": "UTC"}, "part": parts}, "plan")
    return [str(problem) for problem in problems]


def test_a_part_that_needs_itself_is_found() -> None:
    text = changed('part = "HEAD"\n', 'part = "PUMP"\n')
    line = line_in(text, 'part = "PUMP"')
    assert only(text) == (
        f"line {line}: part PUMP, need 1: "
        "part PUMP needs itself; remove this need or correct the code"
    )


def test_a_circle_is_shown_as_one() -> None:
    text = changed("[part.bar]", '[[part.need]]\npart = "PUMP"\nper = 1\n\n[part.bar]')
    line = line_in(text, 'part = "HEAD"')
    assert only(text) == (
        f"line {line}: part PUMP, need 1: the bill of material goes in "
        "a circle: HEAD needs PUMP needs HEAD; remove one of these needs"
    )


def test_two_circles_are_found_at_once() -> None:
    found = bill([(0, 1), (1, 0), (2, 3), (3, 4), (4, 2)])
    assert [problem.split("circle: ")[1].split(";")[0] for problem in found] == [
        "P0 needs P1 needs P0",
        "P2 needs P3 needs P4 needs P2",
    ]


def test_a_long_circle_is_shown_in_short() -> None:
    (found,) = bill([(number, (number + 1) % 10) for number in range(10)])
    assert "P0 needs P1" in found
    assert "P6 needs (2 more) needs P9 needs P0" in found


def test_a_part_needed_in_two_ways_is_no_circle() -> None:
    assert bill([(0, 1), (0, 2), (1, 3), (2, 3)]) == []


@given(st.sets(st.tuples(st.integers(0, 9), st.integers(0, 9))))
def test_a_circle_is_found_exactly_where_a_graph_library_finds_one(
    needs: set[tuple[int, int]],
) -> None:
    """Second opinion: networkx, `is_directed_acyclic_graph`."""
    graph: nx.DiGraph[int] = nx.DiGraph(sorted(needs))
    assert (bill(sorted(needs)) == []) == nx.is_directed_acyclic_graph(graph)
