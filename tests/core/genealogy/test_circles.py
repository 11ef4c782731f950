"""Circles in a table of links."""

from __future__ import annotations

import itertools

import networkx as nx
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.genealogy.circles import find_circle


def test_links_without_a_circle_have_none() -> None:
    assert find_circle([]) == []
    assert find_circle([("A", "B"), ("A", "C"), ("B", "D"), ("C", "D")]) == []


def test_a_circle_is_told_without_what_hangs_on_it() -> None:
    links = [("X", "B"), ("B", "C"), ("A", "B"), ("C", "A"), ("C", "Y"), ("Y", "Z")]
    assert find_circle(links) == ["A", "B", "C", "A"]


def test_a_very_long_circle_needs_no_deep_calls() -> None:
    links = [(f"L-{n:06}", f"L-{(n + 1) % 100_000:06}") for n in range(100_000)]
    circle = find_circle(links)
    assert len(circle) == 100_001
    assert circle[0] == circle[-1] == "L-000000"
    assert circle[1] == "L-000001"


NODES = st.sampled_from("ABCDEFGHIJ")


@given(st.lists(st.tuples(NODES, NODES).filter(lambda link: link[0] != link[1]), max_size=25))
def test_a_circle_is_found_exactly_where_a_graph_library_finds_one(
    links: list[tuple[str, str]],
) -> None:
    """Second opinion: networkx, `is_directed_acyclic_graph`."""
    circle = find_circle(links)
    graph: nx.DiGraph[str] = nx.DiGraph(links)
    assert (circle == []) == nx.is_directed_acyclic_graph(graph)
    assert set(itertools.pairwise(circle)) <= set(links)
    if circle:
        assert circle[0] == circle[-1] == min(circle)
        assert len(set(circle)) == len(circle) - 1
