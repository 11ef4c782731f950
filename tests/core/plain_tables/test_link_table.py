"""Rows of the table of links."""

from __future__ import annotations

import pytest

from lotkin.core.plain_tables import LinkLine
from lotkin.core.values.kinds import Mixing
from tests.core.plain_tables.small_tables import LINKS, bad_link, links_of


def test_a_full_row_is_read() -> None:
    table, problems = links_of(f"{LINKS}\nS-1,U-1,6,screws,one-of,6\n")
    assert problems == []
    assert table.rows == [LinkLine(2, "S-1", "U-1", 6_000_000, "screws", Mixing.ONE_OF, 6_000_000)]


def test_empty_cells_mean_what_the_contract_says() -> None:
    table, problems = links_of(f"{LINKS}\nS-1,U-1,,,,\n")
    assert problems == []
    assert table.rows == [LinkLine(2, "S-1", "U-1", None, "", Mixing.EACH, 1_000_000)]


@pytest.mark.parametrize("absent", range(4))
def test_the_last_three_columns_may_be_absent(absent: int) -> None:
    columns = LINKS.split(",")[: 6 - absent]
    row = ["S-1", "U-1", "1", "", "", ""][: 6 - absent]
    table, problems = links_of(f"{','.join(columns)}\n{','.join(row)}\n")
    assert problems == []
    assert table.rows == [LinkLine(2, "S-1", "U-1", 1_000_000, "", Mixing.EACH, 1_000_000)]


@pytest.mark.parametrize("mixing", Mixing)
def test_every_mixing_is_known(mixing: Mixing) -> None:
    table, _ = links_of(f"{LINKS}\nS-1,U-1,,,{mixing},\n")
    assert table.rows[0].mixing is mixing


@pytest.mark.parametrize(
    ("row", "problem"),
    [
        (",U-1,,,,", "parent: is empty"),
        ("S-1,,,,,", "child: is empty"),
        (
            "S 1,U-1,,,,",
            "parent: S 1 is no code: 1 to 80 printable ASCII characters without spaces",
        ),
        ("S-1,S-1,,,,", "child: S-1 is its own parent"),
        ("S-1,U-1,-1,,,", "quantity: -1 is below zero"),
        ("S-1,U-1,x,,,", "quantity: x is not a number"),
        (
            "S-1,U-1,,,mixed,",
            "mixing: mixed is no mixing; it is one of each, one-of, either, blend, former",
        ),
        ("S-1,U-1,,,,0", "per: 0 in one piece is no link; leave the row out"),
        ("S-1,U-1,,,,-1", "per: -1 is below zero"),
    ],
)
def test_a_bad_cell_is_told(row: str, problem: str) -> None:
    assert bad_link(row) == problem


def test_the_name_of_a_group_may_be_any_text_that_is_not_endless() -> None:
    table, problems = links_of(f'{LINKS}\nS-1,U-1,,"Schrauben, links (ä) ""2""",,\n')
    assert problems == []
    assert table.rows[0].group == 'Schrauben, links (ä) "2"'
    assert bad_link(f"S-1,U-1,,{'g' * 201},,") == (
        f"group: {'g' * 40}… has more than 200 characters"
    )


def test_the_same_link_twice_is_told() -> None:
    _, problems = links_of(f"{LINKS}\nS-1,U-1,1,,,\nS-1,U-1,2,,,\n")
    assert problems == [
        (
            "links.csv line 3, column child: S-1 to U-1 stands on line 2 already; "
            "name a group in each if both are meant"
        )
    ]


def test_the_same_link_twice_in_one_group_is_told() -> None:
    _, problems = links_of(f"{LINKS}\nS-1,U-1,1,a,,\nS-1,U-1,2,a,,\n")
    assert problems == [
        "links.csv line 3, column child: S-1 to U-1 in group a stands on line 2 already"
    ]


def test_a_lot_may_be_in_two_groups_of_one_child() -> None:
    table, problems = links_of(f"{LINKS}\nS-1,U-1,1,left,,\nS-1,U-1,2,right,,\n")
    assert problems == []
    assert len(table.rows) == 2


def test_all_rows_of_a_group_have_one_mixing() -> None:
    _, problems = links_of(f"{LINKS}\nA,L,1,g,one-of,\nB,M,1,g,blend,\nC,L,1,g,blend,\n")
    assert problems == [
        "links.csv line 4, column mixing: blend, but group g of L is one-of on line 2"
    ]
