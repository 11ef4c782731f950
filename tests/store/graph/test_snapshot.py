"""The copy of the graph says what the tables say, or is not believed."""

from __future__ import annotations

import os
import random
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import breadth_first_order

import lotkin.store.graph.snapshot as graphs_module
from lotkin.core.exposure.exposure import Exposed, expose
from lotkin.core.exposure.reach import Reach
from lotkin.core.exposure.reach_arrays import ReachArrays
from lotkin.core.values.places import Spot
from lotkin.store.connection.engine import writing
from lotkin.store.graph.array_file import ArrayFile, BadArrayFileError, write_arrays
from lotkin.store.graph.breadth_first import reached
from lotkin.store.graph.build import smallest
from lotkin.store.graph.snapshot import Graphs
from lotkin.store.graph.walk import Direction
from lotkin.store.store import Store
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.where import Question, where_from, where_used
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.wiring import open_store
from tests.dealt_works import deal
from tests.histories import AROUND, History
from tests.small_works import PLAN, Works

Data = st.DataObject


@pytest.fixture(autouse=True)
def always_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the smallest question go to the copy."""
    monkeypatch.setattr(graphs_module, "FEW_COLD", -1)
    monkeypatch.setattr(graphs_module, "FEW_WARM", -1)
    monkeypatch.setattr(graphs_module, "OLD_AFTER", 1e9)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("copies")


def copied(works: Works, folder: Path) -> Store:
    """Give the same store with a copy of its graph as of now."""
    path = folder / f"{random.randrange(10**12)}.graph"
    store = Store(works.store.source, Graphs(path))
    store.copy_graph()
    return store


def said(reach: Reach) -> tuple[Any, ...]:
    """Give all that a reach says, in an order of its own."""
    nodes, links, code = reach.nodes, reach.links, reach.nodes.code
    items = zip(code, nodes.kind, nodes.part, nodes.quantity, nodes.unit, nodes.serial, strict=True)
    ends = [
        (code[p] if p >= 0 else "", code[c]) for p, c in zip(links.parent, links.child, strict=True)
    ]
    lines = zip(
        ends,
        links.event,
        links.group,
        links.mixing,
        links.quantity,
        links.per,
        links.parent_unit,
        strict=True,
    )
    return sorted(items, key=repr), sorted(lines, key=repr), [code[i] for i in reach.starts]


def told(store: Store, codes: list[str], direction: Direction, first: list[str] | None) -> Told:
    """Give what a store says of some items."""
    with store.reading() as view:
        reach = view.reach(codes, direction, first=first)
        code = reach.nodes.code
        stock = {code[i]: dict(spots) for i, spots in view.reached_stock().items()}
    exposed = dict(zip(code, expose(reach, reach.starts).items, strict=True))
    return Told(said(reach), stock, exposed, {code[i] for i in reach.ends()}, reach.arrays)


class Told(NamedTuple):
    said: tuple[Any, ...]
    stock: dict[str, dict[Spot, int]]
    exposed: dict[str, Exposed]
    ends: set[str]
    arrays: ReachArrays | None


def compare(plain: Store, copy: Store, codes: list[str], first: list[str] | None = None) -> None:
    """Compare what both say of one item and of some together."""
    for some in ([codes[0]], codes):
        for direction, narrowed in (("down", first), ("up", None)):
            mine = told(plain, some, direction, narrowed)  # type: ignore[arg-type]
            other = told(copy, some, direction, narrowed)  # type: ignore[arg-type]
            assert other.arrays is not None, "the tables answered"
            assert mine.said == other.said
            assert mine.stock == other.stock
            assert mine.ends == other.ends
            assert mine.exposed.keys() == other.exposed.keys()
            for code, exposed in mine.exposed.items():
                assert exposed[:3] == other.exposed[code][:3]
                assert exposed[3:] == pytest.approx(other.exposed[code][3:], abs=1e-9)


@settings(max_examples=40)
@given(st.data())
def test_it_says_what_the_tables_say_whatever_came_after_it(folder: Path, data: Data) -> None:
    history = History(data.draw, planned=bool(data.draw(st.integers(0, 1))))
    steps = AROUND[data.draw(st.sampled_from(tuple(AROUND)))]
    history.stock_up()
    for _ in range(history.whole(0, 12)):
        history.step(*steps)
    copy = copied(history.works, folder)
    for _ in range(history.whole(0, 12)):
        history.step()
    history.look()
    assume(history.items)
    codes = history.several(tuple(history.items), most=6)
    compare(history.works.store, copy, codes)


@settings(max_examples=15)
@given(st.data())
def test_answers_are_the_same_now_and_as_of_an_earlier_event(folder: Path, data: Data) -> None:
    history = History.drawn(data.draw, most=15)
    copy = copied(history.works, folder)
    for _ in range(history.whole(0, 8)):
        history.step()
    history.look()
    code = history.pick(tuple(history.items))
    position = history.whole(1, history.works.head())
    plain = history.works.store
    asked = [Question(), Question(window=None, min_content=0.1)]
    with plain.reading() as view:
        if view.item_as_of(code, position) is not None:
            asked.append(Question(as_of=position))
    for question in asked:
        for ask in (where_used, where_from):
            mine, other = ask(plain, code, question), ask(copy, code, question)
            assert [row[:8] for row in mine.items] == [row[:8] for row in other.items]
            assert [row[-3:] for row in mine.items] == [row[-3:] for row in other.items]
        here, there = contain(plain, [code], question), contain(copy, [code], question)
        assert here.accounts == there.accounts
        assert (here.units, here.removed_units) == (there.units, there.removed_units)
        assert here.at_most_units == there.at_most_units
        assert here.expected == pytest.approx(there.expected, abs=1e-5)
        assert [*here.places] == [*there.places]
        assert [*here.customers] == [*there.customers]


@settings(max_examples=20)
@given(st.data())
def test_a_narrowed_first_step_is_narrowed_the_same(folder: Path, data: Data) -> None:
    history = History.drawn(data.draw)
    copy = copied(history.works, folder)
    assume(history.items)
    codes = history.several(tuple(history.items), most=4)
    first = history.several(tuple(history.items), most=8)
    compare(history.works.store, copy, codes, first)


def test_it_says_what_the_tables_say_of_a_whole_dealt_works(folder: Path) -> None:
    works = Works(plan=PLAN)
    deal(works, 5, turns=40)
    copy = copied(works, folder)
    with works.store.reading() as view:
        codes = [item.code for item in view.all_items()]
    for code in codes[:: max(1, len(codes) // 25)]:
        compare(works.store, copy, [code])


# --- what is not believed


@pytest.fixture
def works() -> Works:
    works = Works(plan=PLAN)
    works.receive("BAD", 100, part="TIP", item_kind="machined-lot")
    works.receive("SCREWS", 500)
    works.mount({"P1": "BAD", "P2": "SCREWS"})
    for number in range(20):
        works.build(f"U{number}")
    return works


def asked_of(store: Store) -> bool:
    """Ask something, and tell whether the copy answered; the answer is right in any case."""
    with store.reading() as view:
        reach = view.reach(["BAD"], "down")
    assert {"U0", "U19"} <= set(reach.nodes.code)
    return reach.arrays is not None


def test_without_a_copy_the_tables_answer(works: Works, folder: Path) -> None:
    assert not asked_of(works.store)
    works.store.graphs = Graphs(folder / "nowhere.graph")
    assert not asked_of(works.store)


def path_of(store: Store) -> Path:
    assert store.graphs is not None
    path: Path = vars(store.graphs)["_path"]
    return path


def test_a_copy_of_another_store_is_not_believed(works: Works, folder: Path) -> None:
    other = Works(plan=PLAN)
    other.receive("BAD", 7)
    copy = copied(other, folder)
    works.store.graphs = Graphs(path_of(copy))
    assert not asked_of(works.store)


def test_a_copy_from_a_later_time_is_not_believed(works: Works, folder: Path) -> None:
    earlier = works.twin()
    works.build("U20")
    copy = copied(works, folder)
    earlier.store.graphs = Graphs(path_of(copy))
    assert not asked_of(earlier.store)


def test_a_copy_from_before_all_was_derived_anew_is_not_believed(
    works: Works, folder: Path
) -> None:
    copy = copied(works, folder)
    assert asked_of(copy)
    rebuild(works.store, check_only=True)
    rebuild(works.store)
    assert asked_of(copy), "nothing was otherwise, so the numbers are the same"
    with writing(works.store.engine) as connection:
        connection.exec_driver_sql("UPDATE stock SET quantity = quantity + 1 WHERE item = 1")
    assert rebuild(works.store).difference
    assert not asked_of(copy)
    copy.copy_graph()
    assert asked_of(copy)


def test_a_copy_that_was_made_anew_is_noticed(works: Works, folder: Path) -> None:
    copy = copied(works, folder)
    assert asked_of(copy)
    works.build("U20")
    again = copied(works, folder)
    os.replace(path_of(again), path_of(copy))  # noqa: PTH105 - as another program would
    with copy.reading() as view:
        assert "U20" in view.reach(["BAD"], "down").nodes.code


def test_a_copy_too_old_is_not_used(
    works: Works, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy = copied(works, folder)
    monkeypatch.setattr(graphs_module, "OLD_AFTER", 0.0)
    assert asked_of(copy)
    works.build("U20")
    assert not asked_of(copy)


def test_a_copy_that_cannot_be_written_is_told(works: Works, folder: Path) -> None:
    from lotkin.core.errors import StoreUnreadable

    store = Store(works.store.source, Graphs(folder / "nowhere" / "x.graph"))
    with pytest.raises(StoreUnreadable):
        store.copy_graph()


@pytest.mark.parametrize("way", ["flip", "cut", "swap", "empty"])
def test_a_damaged_copy_is_noticed_and_the_tables_answer(
    works: Works, folder: Path, way: str
) -> None:
    """No single bit can be changed without notice, nor any end be missing."""
    copy = copied(works, folder)
    whole = path_of(copy).read_bytes()
    dice = random.Random(3)
    for number in range(150):
        content = bytearray(whole)
        at = dice.randrange(len(content))
        if way == "flip":
            content[at] ^= 1 << dice.randrange(8)
        elif way == "cut":
            del content[at:]
        elif way == "swap":
            content[at:], content[:at] = content[:at], content[at:]
        else:
            content = bytearray(at)
        path = folder / f"{way}-{number}.graph"
        path.write_bytes(content)
        works.store.graphs = Graphs(path)
        asked_of(works.store)
        path.unlink(missing_ok=True)


def test_what_is_due_is_told(works: Works, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def is_due(store: Store) -> bool:
        assert store.graphs is not None
        with store.reading() as view:
            return store.graphs.is_due(view.database)

    copy = copied(works, folder)
    assert not is_due(copy), "a small works needs none"
    monkeypatch.setattr(graphs_module, "WORTH_IT", 5)
    assert not is_due(copy)
    monkeypatch.setattr(graphs_module, "OLD_AFTER", 0.1)
    works.build("U20")
    assert is_due(copy)
    copy.copy_graph()
    assert not is_due(copy)
    path_of(copy).write_bytes(b"torn")
    assert is_due(copy)
    path_of(copy).unlink()
    assert is_due(copy)


def test_a_store_on_disk_keeps_its_copy_beside_it(works: Works, tmp_path: Path) -> None:
    path = tmp_path / "works.db"
    made = Works(str(path), plan=PLAN)
    made.receive("BAD", 10)
    made.store.close()
    store = open_store(str(path))
    assert store.copy_graph() == 2
    assert (tmp_path / "works.db.graph").exists()
    store.close()


# --- the file and the search


@given(
    st.dictionaries(
        st.text("abc", min_size=1, max_size=4), st.lists(st.integers(-(2**62), 2**62)), max_size=4
    )
)
def test_arrays_are_read_as_they_were_written(folder: Path, given: dict[str, list[int]]) -> None:
    path = folder / "arrays"
    arrays = {name: smallest(np.array(values, np.int64)) for name, values in given.items()}
    write_arrays(path, {"what": "a test"}, arrays)
    file = ArrayFile(path)
    assert file.about == {"what": "a test"}
    assert {name: file[name].tolist() for name in arrays} == given
    with pytest.raises(BadArrayFileError):
        file["nothing"]


@pytest.mark.parametrize(
    ("values", "kind"),
    [
        ([], "u1"), ([0, 255], "u1"), ([256], "u2"), ([-1, 127], "i1"), ([-1, 128], "i2"),
        ([2**32 - 1], "u4"), ([2**32], "i8"), ([-(2**31)], "i4"), ([-(2**31) - 1], "i8"),
    ],
)  # fmt: skip
def test_whole_numbers_take_the_smallest_type(values: list[int], kind: str) -> None:
    assert smallest(np.array(values, np.int64)).dtype == np.dtype(kind)


@settings(max_examples=40)
@given(st.data())
def test_the_search_finds_what_the_library_finds(data: Data) -> None:
    """scipy.sparse.csgraph, one start at a time, is the second opinion."""
    size = data.draw(st.integers(1, 12))
    links = sorted(
        data.draw(
            st.sets(st.tuples(st.integers(0, size - 1), st.integers(0, size - 1)), max_size=30)
        )
    )
    near = np.array([a for a, _ in links], np.int64)
    far = np.array([b for _, b in links], np.int32)
    at = np.zeros(size + 1, np.int32)
    np.cumsum(np.bincount(near, minlength=size), out=at[1:])
    starts = data.draw(st.lists(st.integers(0, size - 1), min_size=1, max_size=3))
    matrix = csr_matrix((np.ones(len(far)), far, at), shape=(size, size))
    expected: set[int] = set()
    for start in starts:
        expected |= set(breadth_first_order(matrix, start, return_predecessors=False).tolist())
    found = reached(at, far, starts).tolist()
    assert set(found) == expected
    assert len(found) == len(expected)
    assert found[: len(dict.fromkeys(starts))] == list(dict.fromkeys(starts))
