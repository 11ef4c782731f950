"""Every printed code on every stock is read back with its payload."""

from __future__ import annotations

import pytest

from lotkin_labels import ItemLabel, find_stock, print_labels, stocks
from lotkin_labels.errors import CodeTooLong, NothingToPrint, UnprintableCode
from lotkin_labels.label.sheets import label_pages
from tests.labels.rendering import codes_on, page_count, page_sizes_mm, rasterise, text_of
from tests.labels.sample_labels import every_label, full_item_label

STOCKS = [stock.code for stock in stocks()]


@pytest.mark.parametrize("dots_per_inch", [203, 300])
@pytest.mark.parametrize("stock", STOCKS)
def test_every_code_on_every_stock_is_read_back(stock: str, dots_per_inch: int) -> None:
    labels = every_label()

    pages = rasterise(print_labels(labels, stock), dots_per_inch)

    read = sorted(code for page in pages for code in codes_on(page))
    assert read == sorted(label.face().payload for label in labels)


@pytest.mark.parametrize("stock", STOCKS)
def test_a_full_sheet_is_read_back(stock: str) -> None:
    count = find_stock(stock).labels_per_page
    labels = [full_item_label(f"LOT-{number:04}") for number in range(count)]

    (page,) = rasterise(print_labels(labels, stock), 203)

    assert codes_on(page) == [label.code for label in labels]


@pytest.mark.parametrize("stock", STOCKS)
def test_the_document_has_the_size_of_the_stock(stock: str) -> None:
    document = print_labels([ItemLabel(code="Q")], stock)

    assert page_sizes_mm(document) == [find_stock(stock).page]


def test_labels_go_on_to_the_next_sheet() -> None:
    labels = [ItemLabel(code=f"L{number}") for number in range(22)]

    assert [text.split() for text in text_of(print_labels(labels, "A4-21"))][1] == ["L21", "hold"]


def test_used_labels_of_the_first_sheet_are_skipped() -> None:
    labels = [ItemLabel(code=f"L{number}") for number in range(3)]

    first, second = label_pages(labels, "A4-21", skip=19)
    third = list(find_stock("A4-21").corners())[19]

    assert min(mark.area.left for mark in first.marks) > third[0]
    assert min(mark.area.top for mark in first.marks) > third[1]
    assert second.marks != ()
    assert page_count(print_labels(labels, "A4-21", skip=19)) == 2


def test_the_text_of_a_label_can_be_searched() -> None:
    (text,) = text_of(print_labels([full_item_label()], "A4-8"))

    for words in ("Brass bar 8 mm", "24.5 m", "H48213/7", "Torvik Bar Metals", "2027-03-02"):
        assert words in text
    assert "Caution: Keep away from oil" in text


def test_the_same_labels_give_the_same_bytes() -> None:
    assert print_labels(every_label(), "A4-24") == print_labels(every_label(), "A4-24")


def test_no_label_is_no_document() -> None:
    with pytest.raises(NothingToPrint, match="no label"):
        print_labels([], "A4-21")


def test_a_payload_in_small_letters_is_refused_unless_bytes_are_allowed() -> None:
    with pytest.raises(UnprintableCode, match="lot_7a"):
        print_labels([ItemLabel(code="lot_7a")], "A4-21")


def test_a_payload_too_long_for_a_stock_is_refused_by_name() -> None:
    label = ItemLabel(code="A", payload="HTTPS://TRACE.EXAMPLE/" + "X" * 300)

    with pytest.raises(CodeTooLong, match="A4-21") as caught:
        print_labels([label], "A4-21")

    assert caught.value.kind == "code-too-long"
    assert len(caught.value.message) < 200
    assert print_labels([label], "THERMAL-102")
