"""Accounts of lots at an outside service: short, over, still inside."""

from __future__ import annotations

import pytest

from tests.small_works import Works


@pytest.fixture
def works() -> Works:
    """100 of A and 50 of B were sent in one load."""
    works = Works()
    works.receive("A", 100)
    works.receive("B", 50)
    works.send("LOAD", ["A", "B"])
    return works


def test_all_pieces_are_at_the_supplier_at_first(works: Works) -> None:
    """150 pieces inside; no lot came out of the load yet."""
    assert works.lines("LOAD") == {"ANODISER": 150.0}
    assert works.lines("A") == {"ANODISER": 100.0}
    assert works.accounts("LOAD")[0].is_complete


def test_pieces_still_inside_belong_to_the_load(works: Works) -> None:
    """60 of A are back: 60 on the shelf, 40 + 50 still inside."""
    works.take_back("LOAD", {"A-BLUE": (60, "A")})
    assert works.lines("LOAD") == {"SHELF": 60.0, "ANODISER": 90.0}
    assert works.lines("A") == {"SHELF": 60.0, "ANODISER": 40.0}
    (account,) = works.accounts("LOAD")
    assert (account.quantity, account.is_complete) == (150.0, True)


def test_a_short_count_is_lost_when_the_load_is_closed_and_not_before(works: Works) -> None:
    """95 of 100 came back, 2 were spoilt there: 3 are missing, inside until closed."""
    returns = {"A-BLUE": (95, "A"), "B-BLUE": (50, "B")}
    works.take_back("LOAD", returns, scrap=[{"item": "A", "quantity": 2}])
    assert works.lines("LOAD") == {"SHELF": 145.0, "ANODISER": 3.0, "scrap": 2.0}
    works.take_back("LOAD", close=True)
    assert works.lines("LOAD") == {"SHELF": 145.0, "scrap": 2.0, "lost": 3.0}
    assert works.lines("A") == {"SHELF": 95.0, "scrap": 2.0, "lost": 3.0}
    assert works.accounts("LOAD")[0].quantity == 150.0


def test_more_back_than_went_out_does_not_add_up(works: Works) -> None:
    """104 came back of 100: 4 of the 104 on the shelf are of another lot, nobody knows which."""
    works.take_back("LOAD", {"A-BLUE": (104, "A")}, reported=True)
    assert works.lines("A") == {"SHELF": 104.0, "lost": -4.0}
    (account,) = works.accounts("A")
    assert (account.quantity, account.found, account.is_complete) == (100.0, 104.0, False)
    assert account.balance.text == "does not add up: 4 pcs more were used than were made"
    assert not any(line.exact for line in account.lines)


def test_lots_tipped_together_are_expected_by_share(works: Works) -> None:
    """150 in one tray, 30 scrapped later: of A two thirds, 80 and 20."""
    works.take_back("LOAD", {"MIX": (150, ["A", "B"])})
    works.do("scrap", item="MIX", quantity=30, reason="stains")
    assert works.lines("A") == {"SHELF": 80.0, "scrap": 20.0}
    assert works.lines("B") == {"SHELF": 40.0, "scrap": 10.0}
    assert not any(line.exact for line in works.accounts("A")[0].lines)
    assert works.lines("LOAD") == {"SHELF": 120.0, "scrap": 30.0}
    assert all(line.exact for line in works.accounts("LOAD")[0].lines)


def test_a_short_mixed_tray_loses_of_both(works: Works) -> None:
    """147 of 150 in one tray: 98 of A and 49 of B by what was inside, 2 and 1 are lost."""
    works.take_back("LOAD", {"MIX": (147, ["A", "B"])}, close=True)
    assert works.lines("A") == {"SHELF": 98.0, "lost": 2.0}
    assert works.lines("B") == {"SHELF": 49.0, "lost": 1.0}


def test_as_of_an_earlier_moment_the_account_is_the_earlier_one(works: Works) -> None:
    """Before the return all 100 were inside; now 100 are on the shelf."""
    before = works.head()
    works.take_back("LOAD", {"A-BLUE": (100, "A")})
    (then,) = works.accounts("A", as_of=before)
    assert {line.where: line.quantity for line in then.lines} == {"ANODISER": 100.0}
    assert works.lines("A") == {"SHELF": 100.0}


def test_rework_in_a_second_load_counts_once(works: Works) -> None:
    """100 treated; 30 of them sent again, 28 came back, the load is closed: 70 + 28 + 2 lost."""
    works.take_back("LOAD", {"A-BLUE": (100, "A"), "B-BLUE": (50, "B")}, close=True)
    works.send("LOAD-2", {"A-BLUE": 30})
    works.take_back("LOAD-2", {"A-AGAIN": (28, "A-BLUE")}, close=True)
    assert works.lines("A") == {"SHELF": 98.0, "lost": 2.0}
    assert works.lines("LOAD") == {"SHELF": 148.0, "lost": 2.0}
    assert works.lines("LOAD-2") == {"SHELF": 28.0, "lost": 2.0}
    assert works.lines("LOAD", "LOAD-2") == {"SHELF": 148.0, "lost": 2.0}


def test_a_lot_asked_about_with_its_load_counts_once(works: Works) -> None:
    """A's 100 are among the 150 of the load: 60 back, 40 of A and 50 of B still inside."""
    works.take_back("LOAD", {"A-BLUE": (60, "A")})
    assert works.lines("A", "LOAD") == {"SHELF": 60.0, "ANODISER": 90.0}
    assert works.accounts("A", "LOAD")[0].quantity == 150.0


def test_a_mixture_still_inside_counts_what_was_not_counted_already() -> None:
    """MIX is 10 of A and 30 of B, all inside: with A's own 100 that is 90 and 40."""
    works = Works()
    works.receive("A", 100)
    works.receive("B", 30)
    works.pool("MIX", {"A": 10, "B": 30})
    works.send("LOAD", "MIX")
    assert works.lines("A", "LOAD") == {"SHELF": 90.0, "ANODISER": 40.0}
