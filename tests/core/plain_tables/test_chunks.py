"""Dividing tables into chunks without tearing groups apart."""

from __future__ import annotations

from collections import defaultdict

from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.plain_tables import ItemTable, LinkLine, LinkTable, chunks
from lotkin.core.values.kinds import Mixing


def link(parent: str, child: str, group: str = "") -> LinkLine:
    return LinkLine(2, parent, child, None, group, Mixing.EACH, 1_000_000)


def numbers(rows: list[LinkLine], size: int = 2_000) -> list[list[tuple[str, str, int]]]:
    """Give (parent, child, number of the group) of every chunk of links."""
    table = LinkTable("links.csv", rows)
    return [
        [(row[0], row[1], row[3]) for row in links]
        for _, links in chunks(ItemTable("items.csv"), table, size)
    ]


def test_no_rows_make_no_chunk() -> None:
    assert list(chunks(ItemTable("items.csv"), LinkTable("links.csv"))) == []


def test_all_items_come_before_all_links() -> None:
    rows = {code: (code, "unit", "", None, "pcs", None) for code in "ABCDE"}
    table = LinkTable("links.csv", [link("A", "B"), link("B", "C")])
    sizes = [
        (len(items), len(links))
        for items, links in chunks(ItemTable("items.csv", rows=dict(rows)), table, 2)
    ]
    assert sizes == [(2, 0), (2, 0), (1, 0), (0, 2)]


def test_a_link_without_a_group_is_a_group_of_its_own() -> None:
    assert numbers([link("A", "L"), link("B", "L"), link("C", "M")]) == [
        [("A", "L", 1), ("B", "L", 2), ("C", "M", 1)]
    ]


def test_links_of_one_group_are_gathered_from_all_over_the_file() -> None:
    rows = [link("A", "L", "g"), link("X", "M", "g"), link("Y", "L"), link("B", "L", "g")]
    (found,) = numbers(rows)
    assert sorted(found) == [("A", "L", 1), ("B", "L", 1), ("X", "M", 1), ("Y", "L", 2)]
    assert found.index(("B", "L", 1)) == found.index(("A", "L", 1)) + 1


def test_links_into_an_item_come_before_links_out_of_it() -> None:
    rows = [link("C", "D"), link("B", "C"), link("A", "B")]
    assert numbers(rows, 1) == [[("A", "B", 1)], [("B", "C", 1)], [("C", "D", 1)]]


def test_a_group_is_not_torn_between_chunks() -> None:
    rows = [link("A", "L"), link("B", "L", "g"), link("C", "L", "g")]
    assert numbers(rows, 2) == [[("A", "L", 1)], [("B", "L", 2), ("C", "L", 2)]]


def test_a_group_larger_than_a_chunk_stays_whole() -> None:
    rows = [link(f"P-{n}", "L", "g") for n in range(5)] + [link("A", "M")]
    assert [len(chunk) for chunk in numbers(rows, 2)] == [5, 1]


CODES = st.sampled_from("ABCDEF")


@given(
    st.lists(st.tuples(CODES, CODES, st.sampled_from(["", "g", "h"])), max_size=30),
    st.integers(1, 6),
)
def test_every_link_is_in_one_chunk_and_its_group_is_told_apart(
    rows: list[tuple[str, str, str]], size: int
) -> None:
    rows = list(dict.fromkeys(rows))
    lines = [link(*row) for row in rows]
    where: dict[tuple[str, int], set[int]] = defaultdict(set)
    members: dict[tuple[str, int], list[str]] = defaultdict(list)
    for number, chunk in enumerate(numbers(lines, size)):
        for parent, child, group in chunk:
            where[child, group].add(number)
            members[child, group].append(parent)
    assert all(len(chunk) == 1 for chunk in where.values())
    expected: dict[tuple[str, object], list[str]] = defaultdict(list)
    for index, (parent, child, name) in enumerate(rows):
        expected[child, name or index].append(parent)
    found = sorted((child, parents) for (child, _), parents in members.items())
    assert found == sorted((child, parents) for (child, _), parents in expected.items())
