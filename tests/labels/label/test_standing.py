"""What labels say of a hold: HELD across it, or as of when it was not held."""

from __future__ import annotations

import pytest

from lotkin_labels import ItemLabel, Label, StandingLabel, Stock, print_labels, stocks, write_zpl
from lotkin_labels.label.wide_layout import lay_out_label
from lotkin_labels.paper.marks import Bar, Frame, Page, Words
from tests.labels.label.test_label_geometry import EVERYWHERE, check
from tests.labels.rendering import codes_on, rasterise, text_of
from tests.labels.sample_labels import HOSTILE_TEXTS, every_label, full_item_label

WHEN = "27 Nov 2026, 14:05"
WHY = "no certificate"
LONG = "BAR-8: nobody has compared composition and strength on its certificate with 11SMnPb30"
LABELS = pytest.mark.parametrize("label", every_label(), ids=lambda label: label.face().code[:12])


def held(label: Label, reason: str = WHY) -> StandingLabel:
    return StandingLabel(label, reason, WHEN)


def page_of(label: Label, stock: Stock) -> Page:
    return lay_out_label(label.face(), stock)


def bars(page: Page) -> list[Bar]:
    return [mark for mark in page.marks if isinstance(mark, Bar)]


@EVERYWHERE
@LABELS
def test_a_held_item_says_held_in_a_bar_across_its_label(label: Label, stock: Stock) -> None:
    page = page_of(held(label), stock)

    (bar,) = bars(page)
    assert bar.width_mm == pytest.approx(stock.label[0] - 2 * stock.padding)
    assert bar.words[0].text == f"HELD: {WHY}"
    assert not [mark for mark in page.marks if isinstance(mark, Frame)]
    check(page, stock)


@EVERYWHERE
@LABELS
def test_a_label_that_is_not_held_says_as_of_when(label: Label, stock: Stock) -> None:
    page = page_of(StandingLabel(label, "", WHEN), stock)

    said = [mark.text for mark in page.marks if isinstance(mark, Words)]
    assert f"not held on {WHEN}" in said
    assert bars(page) == []
    check(page, stock)


@EVERYWHERE
@LABELS
def test_the_code_of_a_held_item_is_still_read(label: Label, stock: Stock) -> None:
    (image,) = rasterise(print_labels([held(label, LONG)], stock), 200)
    assert codes_on(image) == [label.face().payload]


@EVERYWHERE
@pytest.mark.parametrize("text", HOSTILE_TEXTS, ids=range(len(HOSTILE_TEXTS)))
def test_hostile_reasons_stay_in_the_bar(text: str, stock: Stock) -> None:
    page = page_of(held(full_item_label(), text or "x"), stock)

    check(page, stock)
    (bar,) = bars(page)
    assert bar.words[0].text.startswith("HELD:")
    assert all(bar.area.holds(words.area) for words in bar.placed_words)


@EVERYWHERE
def test_a_long_reason_is_whole_where_there_is_room(stock: Stock) -> None:
    (bar,) = bars(page_of(held(full_item_label(), LONG), stock))
    said = " ".join(words.text for words in bar.words)
    assert said == f"HELD: {LONG}" or (said.endswith("…") and len(said) > 60)


def test_the_words_in_the_bar_are_in_the_document_and_white() -> None:
    document = print_labels([held(full_item_label())], "A4-8")
    (text,) = text_of(document)
    assert f"HELD: {WHY}" in text


def test_a_thermal_printer_fills_the_bar_and_reverses_its_words() -> None:
    zpl = write_zpl([held(full_item_label())], "THERMAL-102")
    assert f"^FR^FH_^FDHELD: {WHY}^FS" in zpl
    assert write_zpl([ItemLabel(code="Q")], "THERMAL-102").count("^FR") == 0


def test_all_sizes_of_stock_were_looked_at() -> None:
    assert {stock.code for stock in stocks()} >= {"A4-21", "A4-24", "A4-8", "TAPE-62"}
