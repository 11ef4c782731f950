"""Where-from and where-used of every node of a large graph, against a closure published by others.

Source: Gene Ontology Consortium, cellular component, go-basic.obo of 2022-07-01, as packed by
Bioconductor in GO.db (Debian r-bioc-go.db 3.16.0-1); GO data under CC BY 4.0, the package under
Artistic-2.0. The descendants are the package's own table of offspring. `dag_go_cc_closure.csv`
holds, for every node, how many ancestors and descendants it has and the first 16 hexadecimal
digits of the SHA-256 of their sorted ids joined by newlines (an empty cell for none).

A term stands for an item, a relation from a parent term for a link: 4,181 items, 6,838 links.
"""

from __future__ import annotations

import csv
import hashlib
import json
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from lotkin.uses.asking.where import Question, where_from, where_used
from lotkin.uses.exchange.import_tables import ImportReport, import_tables
from lotkin.wiring import now_us
from tests.stores import fresh_store

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.store.store import Store

FOLDER = Path(__file__).parent
NODES, LINKS, PAIRS = 4_181, 6_838, 49_633


def rows(name: str) -> list[dict[str, str]]:
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def taken_over(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Store, ImportReport]]:
    """Give a store into which the graph was imported, and what the import said."""
    folder = tmp_path_factory.mktemp("gene-ontology")
    items, links = folder / "items.csv", folder / "links.csv"
    items.write_text(
        "code,kind,part,quantity,unit,made_at\n"
        + "".join(f"{row['node']},purchased-lot,,,,\n" for row in rows("dag_go_cc_closure.csv"))
    )
    links.write_text(
        "parent,child,quantity\n"
        + "".join(f"{row['parent']},{row['child']},\n" for row in rows("dag_go_cc_edges.csv"))
    )
    store = fresh_store()
    at = datetime(2026, 5, 4, tzinfo=UTC)
    report = import_tables(store, items, links, by="ANN", at=at, dry_run=False, clock=now_us)
    yield store, report
    store.close()


def test_the_size_is_the_published_one(taken_over: tuple[Store, ImportReport]) -> None:
    meta = json.loads((FOLDER / "dag_go.meta.json").read_text("utf-8"))
    published = meta["graphs"]["cc"]
    assert (published["nodes"], published["edges"]) == (NODES, LINKS)
    assert published["descendant_pairs"] == PAIRS
    _, report = taken_over
    assert (report.items, report.links) == (NODES, LINKS)


def told(codes: set[str]) -> tuple[str, str]:
    """Give count and hash as the closure does."""
    text = "\n".join(sorted(codes))
    return str(len(codes)), hashlib.sha256(text.encode()).hexdigest()[:16] if codes else ""


def test_answers_are_the_published_ones(taken_over: tuple[Store, ImportReport]) -> None:
    """The whole way of an answer, for every fiftieth node and for the one that reaches most."""
    store, _ = taken_over
    closure = rows("dag_go_cc_closure.csv")
    closure.sort(key=lambda row: -int(row["n_descendants"]))
    for row in closure[::50]:
        down = where_used(store, row["node"], Question())
        up = where_from(store, row["node"], Question())
        found = told({item.code for item in down.items})
        assert found == (row["n_descendants"], row["descendants_sha256_16"])
        found = told({item.code for item in up.items})
        assert found == (row["n_ancestors"], row["ancestors_sha256_16"])


def test_ancestors_and_descendants_of_every_node_are_the_published_ones(
    taken_over: tuple[Store, ImportReport],
) -> None:
    store, _ = taken_over
    wrong: list[str] = []
    pairs = 0
    with store.reading() as view:
        for row in rows("dag_go_cc_closure.csv"):
            code = row["node"]
            up = set(view.reach([code], "up").nodes.code) - {code}
            down = set(view.reach([code], "down").nodes.code) - {code}
            pairs += len(down)
            if told(up) != (row["n_ancestors"], row["ancestors_sha256_16"]):
                wrong.append(f"{code} up")
            if told(down) != (row["n_descendants"], row["descendants_sha256_16"]):
                wrong.append(f"{code} down")
    assert wrong == []
    assert pairs == PAIRS
