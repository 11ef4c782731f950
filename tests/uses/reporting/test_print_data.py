"""What paper says of holds: that of the item, of an open case, and of what lies within."""

from __future__ import annotations

import pytest

from lotkin.uses.reporting.print_data import Printable, print_data
from lotkin_labels import Stock, print_labels, stocks
from lotkin_labels.printing.shop_papers import dispatch_note, label_of
from tests.labels.rendering import text_of
from tests.small_works import Works

EVERYWHERE = pytest.mark.parametrize("stock", stocks(), ids=lambda stock: stock.code)


@pytest.fixture
def works() -> Works:
    works = Works()
    works.bar("BAR-1", heat="48213")
    works.make({"TIP-1": 50}, {"BAR-1": 1})
    return works


def printed(works: Works, code: str) -> Printable:
    _, (found,) = print_data(works.store, [code], works.clock)
    return found


def words_of(works: Works, code: str, stock: str) -> str:
    return text_of(print_labels([label_of(printed(works, code), None)], stock))[0]


@EVERYWHERE
def test_the_label_of_a_held_lot_says_held_and_why(works: Works, stock: Stock) -> None:
    works.receive("S-1", hold="no certificate")
    said = words_of(works, "S-1", stock.code)
    assert "HELD: no certificate" in said
    assert "not held" not in said


@EVERYWHERE
def test_a_label_without_held_says_as_of_when(works: Works, stock: Stock) -> None:
    said = words_of(works, "TIP-1", stock.code)
    assert "not held on 2 Mar 2026, 06:02 UTC" in said
    assert "HELD" not in said


def test_what_a_case_holds_says_held_too(works: Works) -> None:
    works.do("open-case", case="C-1", reason="cracks", subjects=["BAR-1"])
    assert printed(works, "TIP-1").held == "C-1, cracks"


def test_a_carton_with_something_held_in_it_says_held(works: Works) -> None:
    works.receive("S-2")
    works.pack("CTN-1", {"S-2": 3})
    assert printed(works, "CTN-1").held == ""
    works.do("open-case", case="C-1", reason="rust", subjects=["S-2"])
    assert printed(works, "CTN-1").held in ("C-1, rust", "S-2: C-1, rust")


def test_a_dispatch_note_says_which_of_its_lots_are_held(works: Works) -> None:
    works.make({"TIP-2": 50}, {"BAR-1": 1})
    works.send("OUT-1", {"TIP-1": 20, "TIP-2": 20})
    works.do("open-case", case="C-1", reason="rust", subjects=["TIP-2"])
    (text,) = text_of(dispatch_note(printed(works, "OUT-1"), None))
    assert text.count("HELD:") == 1
    assert "holds as of" in text


def test_a_label_of_bar_says_its_heat_and_place(works: Works) -> None:
    found = printed(works, "BAR-1")
    assert (found.source and found.source.supplier_lot, found.place) == ("48213", "SHELF")
    said = words_of(works, "BAR-1", "A4-8")
    assert "heat 48213" in said
    assert "place SHELF" in said
