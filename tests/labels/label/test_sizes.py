"""Label stocks: what fits on the page, and how fine a code may be."""

from __future__ import annotations

import pytest

from lotkin_labels import Stock, find_stock, stocks
from lotkin_labels.errors import UnknownStock
from lotkin_labels.paper.marks import Area

# Common practice, no source: the sizes under which these stocks are sold.
SOLD_AS = {
    "A4-21": (63.5, 38.1, 21),
    "A4-24": (70, 37, 24),
    "A4-8": (99.1, 67.7, 8),
    "TAPE-62": (62, 40, 1),
    "THERMAL-102": (101.6, 152.4, 1),
}


@pytest.mark.parametrize("stock", stocks(), ids=lambda stock: stock.code)
def test_a_stock_has_the_size_under_which_it_is_sold(stock: Stock) -> None:
    assert (*stock.label, stock.labels_per_page) == SOLD_AS[stock.code]


@pytest.mark.parametrize("stock", stocks(), ids=lambda stock: stock.code)
def test_labels_lie_on_the_page_side_by_side(stock: Stock) -> None:
    page = Area(0, 0, *stock.page)
    areas = [Area(x, y, x + stock.label[0], y + stock.label[1]) for x, y in stock.corners()]

    assert all(page.holds(area) for area in areas)
    assert not any(
        one.overlaps(other) for number, one in enumerate(areas) for other in areas[number + 1 :]
    )


@pytest.mark.parametrize("stock", stocks(), ids=lambda stock: stock.code)
def test_sheets_are_laid_out_in_the_middle_of_the_page(stock: Stock) -> None:
    corners = list(stock.corners())
    right = stock.page[0] - corners[-1][0] - stock.label[0]
    bottom = stock.page[1] - corners[-1][1] - stock.label[1]

    assert right == pytest.approx(stock.first[0], abs=0.05)
    assert bottom == pytest.approx(stock.first[1], abs=0.05)


@pytest.mark.parametrize("stock", stocks(), ids=lambda stock: stock.code)
def test_no_stock_allows_modules_too_fine_for_a_cheap_scanner(stock: Stock) -> None:
    # Common practice, no source: 0.4 mm on labels, 0.33 mm on tape.
    assert stock.smallest_module >= (0.33 if stock.code.startswith("TAPE") else 0.4)
    assert stock.largest_module > stock.smallest_module


def test_modules_are_whole_dots_of_the_printer() -> None:
    module = find_stock("THERMAL-102").module_mm(25, 30)

    assert module is not None
    assert module * 203 / 25.4 == pytest.approx(9)


def test_a_symbol_that_would_be_too_fine_gets_no_module() -> None:
    assert find_stock("A4-21").module_mm(45, 17.9) is None
    assert find_stock("A4-21").module_mm(45, 18) == pytest.approx(0.4)


def test_a_stock_is_found_in_any_case_of_letters() -> None:
    assert find_stock("a4-21").code == "A4-21"


def test_an_unknown_stock_names_those_there_are() -> None:
    with pytest.raises(UnknownStock, match="A4-22") as caught:
        find_stock("A4-22")

    assert caught.value.kind == "unknown-stock"
    assert "A4-21" in caught.value.hint
