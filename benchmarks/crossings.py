"""Lines that cross in pictures of the demo works: our layout beside those of two graph libraries.

Run `python -m benchmarks.crossings [store]`; the figures stand in a decision. All three get the
same columns and lanes for lines that pass a column, so only the order in the columns differs.
"""

from __future__ import annotations

import sys
import tempfile
import time
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING

import igraph
import networkx as nx

import lotkin_demo
from lotkin.uses.asking.where import where_from, where_used
from lotkin.wiring import create_store, open_store
from lotkin_labels.reports.genealogy.genealogy import ON_PAPER, Room, genealogy_of
from lotkin_labels.reports.genealogy.layout import lay_out

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from lotkin_labels.reports.genealogy.genealogy import Genealogy
    from lotkin_labels.reports.genealogy.layout import Layout

ON_A_PAGE = Room(300, 60, 30)
HEIGHT_MM = 2000.0


def crossings(layout: Layout, height_of: Mapping[int, float]) -> int:
    """Count pairs of steps between the same two columns that cross."""
    between: dict[int, list[tuple[int, int]]] = {}
    for one, other in layout.steps:
        between.setdefault(layout.spots[one].layer, []).append((one, other))
    return sum(
        (height_of[a] - height_of[c]) * (height_of[b] - height_of[d]) < 0
        for steps in between.values()
        for (a, b), (c, d) in combinations(steps, 2)
    )


def ours(layout: Layout) -> dict[int, float]:
    """Take the order that we draw."""
    return {at: spot.y_mm for at, spot in enumerate(layout.spots)}


def by_networkx(layout: Layout) -> dict[int, float]:
    """Take what networkx offers for columns: `multipartite_layout`."""
    graph: nx.DiGraph[int] = nx.DiGraph()
    for at, spot in enumerate(layout.spots):
        graph.add_node(at, layer=spot.layer)
    graph.add_edges_from(layout.steps)
    places = nx.multipartite_layout(graph, subset_key="layer", align="vertical")
    return {at: float(place[1]) for at, place in places.items()}


def by_igraph(layout: Layout) -> dict[int, float]:
    """Take what igraph offers for columns: `layout_sugiyama`."""
    graph = igraph.Graph(len(layout.spots), list(layout.steps), directed=True)
    layers = [spot.layer for spot in layout.spots]
    places = graph.layout_sugiyama(layers=layers, maxiter=100)
    return {at: float(places[at][0]) for at in range(len(layout.spots))}


WAYS: dict[str, Callable[[Layout], dict[int, float]]] = {
    "ours": ours,
    "networkx": by_networkx,
    "igraph": by_igraph,
}


def measured(drawn: Genealogy) -> dict[str, tuple[int, float]]:
    """Give (crossings, milliseconds) of each way to lay a picture out."""
    found = {}
    for name, way in WAYS.items():
        began = time.process_time()
        layout = lay_out(drawn, HEIGHT_MM)
        plain = time.process_time() - began
        height_of = way(layout)
        took = time.process_time() - began
        found[name] = (
            crossings(layout, height_of),
            1000 * (took if name == "ours" else took - plain),
        )
    return found


def main() -> None:
    """Measure five pictures and print a table."""
    with tempfile.TemporaryDirectory() as folder:
        if len(sys.argv) > 1:
            store = open_store(f"sqlite:///{Path(sys.argv[1]).resolve()}")
        else:
            store = create_store(f"sqlite:///{Path(folder) / 'demo.db'}")
            lotkin_demo.build(store)
        pictures = {
            "where-used ANO-009": where_used(store, "ANO-009"),
            "where-used POWDER-001": where_used(store, "POWDER-001"),
            "where-from DP40-0404": where_from(store, "DP40-0404"),
            "where-from T-0044-30": where_from(store, "T-0044-30"),
            "where-used LATHE-1": where_used(store, "LATHE-1"),
        }
        for name, answer in pictures.items():
            for room in (ON_PAPER, ON_A_PAGE):
                drawn = genealogy_of(answer, room)
                found = measured(drawn)
                said = ", ".join(f"{way} {n} ({ms:.0f} ms)" for way, (n, ms) in found.items())
                print(f"{name}: {len(drawn.boxes)} boxes, {len(drawn.edges)} lines: {said}")


if __name__ == "__main__":
    main()
