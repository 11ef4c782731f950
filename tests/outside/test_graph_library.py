"""Where-used and where-from on random graphs against a graph library's own search.

Source: networkx (BSD-3-Clause): descendants, ancestors, transitive closure and order of a directed
acyclic graph.
"""

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING

import networkx as nx
import pytest

from lotkin.core.exposure.exposure import expose
from lotkin.core.values.kinds import FAMILY_OF, KINDS, Family
from lotkin.core.values.quantities import MICRO
from tests.small_works import Works

if TYPE_CHECKING:
    Graph = nx.DiGraph[str]

SEEDS = range(6)
MIXINGS = ("each", "one-of", "either", "blend")
UNCOUNTED = ("heat", "source-lot", "bench-setup")


def random_graph(seed: int, nodes: int = 40, density: float = 0.08) -> Graph:
    """Make up a graph whose links lead from earlier to later items."""
    random = Random(seed)
    graph: Graph = nx.DiGraph()
    graph.add_nodes_from(f"N{i:02}" for i in range(nodes))
    for i in range(nodes):
        for j in range(i + 1, nodes):
            if random.random() < density:
                graph.add_edge(f"N{i:02}", f"N{j:02}")
    return graph


def take_over(graph: Graph, seed: int) -> Works:
    """Import a graph with items of all kinds and links of all mixings, in a random order."""
    random = Random(seed)
    kinds = [kind for family in Family for kind in KINDS[family]]
    items = []
    for code in graph.nodes:
        kind = random.choice(kinds)
        counted = FAMILY_OF[kind] is Family.MATERIAL and kind not in UNCOUNTED
        quantity = random.randint(1, 100) * MICRO if counted else None
        items.append([code, kind, "", quantity, "pcs" if counted else "", None])
    links = []
    for child in graph.nodes:
        mixing = random.choice(MIXINGS)
        for number, parent in enumerate(graph.predecessors(child), start=1):
            group = number if mixing == "each" else 1
            quantity = random.choice([None, random.randint(1, 5) * MICRO])
            links.append([parent, child, quantity, group, mixing, MICRO])
    random.shuffle(items)
    random.shuffle(links)
    works = Works()
    works.do("import", items=items, links=links)
    return works


@pytest.mark.parametrize("seed", SEEDS)
def test_both_directions_are_what_the_library_finds_for_every_node(seed: int) -> None:
    graph = random_graph(seed)
    works = take_over(graph, seed)
    for code in graph.nodes:
        assert set(works.used(code)) == nx.descendants(graph, code)
        assert set(works.origin(code)) == nx.ancestors(graph, code)


@pytest.mark.parametrize("seed", SEEDS)
def test_all_answers_together_are_the_transitive_closure(seed: int) -> None:
    graph = random_graph(seed, nodes=25, density=0.15)
    works = take_over(graph, seed)
    pairs = {(code, row) for code in graph.nodes for row in works.used(code)}
    assert pairs == set(nx.transitive_closure_dag(graph).edges)
    backwards = {(row, code) for code in graph.nodes for row in works.origin(code)}
    assert backwards == pairs


@pytest.mark.parametrize("seed", SEEDS)
def test_parents_come_before_children(seed: int) -> None:
    graph = random_graph(seed)
    works = take_over(graph, seed)
    roots = [code for code in graph.nodes if not graph.in_degree(code)]
    with works.store.reading() as view:
        reach = view.reach(roots, "down")
        order = [reach.nodes.code[i] for i in reach.order()]
        # what cannot be ordered is not in the list, and would not be computed
        assert sorted(order) == sorted(graph.nodes)
        place = {code: i for i, code in enumerate(order)}
        assert all(place[parent] < place[child] for parent, child in graph.edges)
        assert all(expose(reach, reach.starts).reached)


def test_a_deep_chain_is_no_matter_of_recursion() -> None:
    """A path of 5,000 items, deeper than Python's own stack."""
    graph: Graph = nx.path_graph([f"N{i:04}" for i in range(5000)], create_using=nx.DiGraph)
    works = take_over(graph, seed=1)
    assert set(works.used("N0000")) == nx.descendants(graph, "N0000")
    assert len(works.used("N2500")) == 2499


def test_a_diamond_ladder_is_walked_once_not_once_a_path() -> None:
    """200 diamonds in a row have 2 ** 200 paths."""
    graph: Graph = nx.DiGraph()
    for i in range(200):
        graph.add_edges_from([(f"T{i}", f"L{i}"), (f"T{i}", f"R{i}")])
        graph.add_edges_from([(f"L{i}", f"T{i + 1}"), (f"R{i}", f"T{i + 1}")])
    works = take_over(graph, seed=2)
    assert set(works.used("T0")) == nx.descendants(graph, "T0")
