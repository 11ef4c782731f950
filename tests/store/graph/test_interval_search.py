"""Finding what is below items by stretches, beside general-purpose graph libraries."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lotkin.store.graph.array_file import ArrayFile, write_arrays
from lotkin.store.graph.changes_since import Newer
from lotkin.store.graph.interval_search import reached_below
from lotkin.store.graph.tree_layout import lay_out

if TYPE_CHECKING:
    from pathlib import Path

Link = tuple[int, int]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("stretches")


def laid_out(folder: Path, size: int, links: list[Link]) -> ArrayFile:
    """Write the layout of some links to a file."""
    pairs = np.array(sorted(links), np.int64).reshape(-1, 2)
    at = np.zeros(size + 1, np.int32)
    np.cumsum(np.bincount(pairs[:, 0], minlength=size), out=at[1:])
    path = folder / f"{random.randrange(10**12)}.graph"
    arrays = lay_out(at, pairs[:, 1].astype(np.int32))
    write_arrays(path, {"size": size}, arrays)
    return ArrayFile(path)


def newer(size: int, links: list[Link]) -> Newer:
    rows = [(parent, child, 9, 1, 0, -1, 1) for parent, child in links]
    return Newer(size, sorted({child for _, child in links}), rows, {})


def below(file: ArrayFile, since: Newer, starts: list[int]) -> list[int]:
    stretches = reached_below(file, since, starts)
    assert stretches is not None
    return [number for stretch in stretches for number in stretch]


@st.composite
def graphs(draw: st.DrawFn) -> tuple[int, list[Link], int, list[Link], list[int]]:
    """Draw a graph whose numbers need not follow its links, links that came later, and starts."""
    size = draw(st.integers(1, 40))
    more = draw(st.integers(0, 10))
    numbers = draw(st.permutations(range(size)))
    ends = st.tuples(st.integers(0, size - 1), st.integers(0, size - 1))
    links = [(numbers[a], numbers[b]) for a, b in draw(st.lists(ends, max_size=90)) if a < b]
    later = []
    if more:
        new = st.tuples(st.integers(0, size + more - 2), st.integers(size, size + more - 1))
        later = [(a, b) for a, b in draw(st.lists(new, max_size=30)) if a < b]
    starts = draw(st.lists(st.integers(0, size + more - 1), min_size=1, max_size=4))
    return size, links, size + more, later, starts


@settings(max_examples=300)
@given(graphs())
def test_all_that_is_below_is_found_once(
    folder: Path, drawn: tuple[int, list[Link], int, list[Link], list[int]]
) -> None:
    """Beside networkx (general-purpose library), `descendants`."""
    size, links, whole, later, starts = drawn
    graph = nx.DiGraph([*links, *later])
    graph.add_nodes_from(range(whole))

    found = below(laid_out(folder, size, links), newer(whole, later), starts)

    assert len(set(found)) == len(found)
    assert set(found) == set(starts).union(*(nx.descendants(graph, start) for start in starts))


@given(graphs())
def test_places_are_a_walk_through_trees(
    folder: Path, drawn: tuple[int, list[Link], int, list[Link], list[int]]
) -> None:
    size, links, _, _, _ = drawn
    file = laid_out(folder, size, links)
    place, order, behind = (list(file[name]) for name in ("place", "order", "behind"))

    assert sorted(order) == list(range(size))
    assert [order[place[number]] for number in range(size)] == list(range(size))
    stretches = [(begin, behind[begin]) for begin in range(size)]
    for begin, end in stretches:
        assert begin < end <= size
        inside = [other for other in stretches if begin < other[0] < end]
        assert all(other[1] <= end for other in inside), "stretches lie within one another"
    chosen = len(links and set(links)) - len(file["across"])
    assert chosen == len({child for _, child in links}), "one link into each item is chosen"


def test_a_link_into_an_item_of_the_copy_makes_it_say_nothing(folder: Path) -> None:
    file = laid_out(folder, 3, [(0, 1)])

    assert reached_below(file, newer(3, [(0, 2)]), [0]) is None


def test_a_chain_of_ten_thousand_is_one_stretch(folder: Path) -> None:
    file = laid_out(folder, 10_000, [(n, n + 1) for n in range(9_999)])

    assert len(file["across"]) == 0
    assert file["behind"][0] == 10_000
    assert below(file, newer(10_000, []), [4_000]) == list(range(4_000, 10_000))


def test_the_parent_with_most_behind_it_is_chosen(folder: Path) -> None:
    """A chain of powders and a bar share a part: the chain stays in one stretch."""
    chain = [(0, 1), (1, 2), (2, 3)]
    file = laid_out(folder, 6, [*chain, (3, 5), (4, 5)])

    assert file["behind"][file["place"][0]] - file["place"][0] == 5
