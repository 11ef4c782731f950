"""Where things stand on labels, from the drawing itself: a reader would forgive too much."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lotkin_labels import CartonLabel, ItemLabel, Label, LabelRow, Stock, stocks
from lotkin_labels.errors import CodeTooLong
from lotkin_labels.label.wide_layout import lay_out_label
from lotkin_labels.paper.marks import Area, Bar, Frame, Page, Rule, Symbol, Words
from tests.labels.sample_labels import HOSTILE_TEXTS, LONG_CODE, every_label, full_item_label

EVERYWHERE = pytest.mark.parametrize("stock", stocks(), ids=lambda stock: stock.code)


def symbol_of(page: Page) -> Symbol:
    (symbol,) = (mark for mark in page.marks if isinstance(mark, Symbol))
    return symbol


def check(page: Page, stock: Stock) -> None:
    """Check what must hold on every label."""
    symbol = symbol_of(page)
    edge = Area(0, 0, page.width_mm, page.height_mm)
    assert edge.holds(symbol.quiet_area)
    assert symbol.module_mm >= stock.smallest_module - 1e-9
    for mark in page.marks:
        assert edge.holds(mark.area), mark
        if mark is not symbol:
            assert not symbol.quiet_area.overlaps(mark.area), mark
    solid = [mark for mark in page.marks if not isinstance(mark, Rule)]
    for one, other in itertools.combinations(solid, 2):
        assert not letters(one).overlaps(letters(other)), (one, other)


def letters(mark: object) -> Area:
    """Give what a mark covers; of words from the top of capitals to the baseline."""
    assert isinstance(mark, Words | Frame | Bar | Symbol)
    area = mark.area
    if isinstance(mark, Words):
        return Area(area.left, area.top + 0.1, area.right, mark.y_mm)
    return area


@EVERYWHERE
@pytest.mark.parametrize("label", every_label(), ids=lambda label: label.face().code[:12])
def test_nothing_stands_in_the_quiet_zone_or_on_anything_else(label: Label, stock: Stock) -> None:
    check(lay_out_label(label.face(), stock), stock)


@EVERYWHERE
@pytest.mark.parametrize("text", HOSTILE_TEXTS, ids=range(len(HOSTILE_TEXTS)))
def test_hostile_texts_stay_in_their_place(text: str, stock: Stock) -> None:
    label = ItemLabel(
        code="T-0042-10",
        kind=text,
        part=text,
        name=text,
        revision=text,
        quantity=text,
        supplier=text,
        supplier_lot=text,
        made_on=text,
        due_on=text,
        cautions=(text, text),
    )

    check(lay_out_label(label.face(), stock), stock)


@EVERYWHERE
@pytest.mark.parametrize("text", HOSTILE_TEXTS, ids=range(len(HOSTILE_TEXTS)))
def test_hostile_contents_of_a_carton_stay_in_their_place(text: str, stock: Stock) -> None:
    rows = tuple(LabelRow(f"U-{number}", text, f"{number} pcs") for number in range(60))

    check(lay_out_label(CartonLabel(code="C-1", name=text, contents=rows).face(), stock), stock)


@EVERYWHERE
@settings(max_examples=25)
@given(
    code=st.text("ABC0-./:$%*+", min_size=1, max_size=80),
    name=st.text(max_size=300),
    quantity=st.text("0123456789. pcs", max_size=25),
    caution=st.text(max_size=300),
)
def test_any_label_keeps_its_quiet_zone(
    stock: Stock, code: str, name: str, quantity: str, caution: str
) -> None:
    label = ItemLabel(code=code, name=name, quantity=quantity, cautions=(caution,))

    check(lay_out_label(label.face(), stock), stock)


@EVERYWHERE
def test_the_quiet_zone_is_four_modules(stock: Stock) -> None:
    # ISO/IEC 18004 (from memory).
    symbol = symbol_of(lay_out_label(ItemLabel(code="Q").face(), stock))

    assert symbol.area.left - symbol.quiet_area.left == pytest.approx(4 * symbol.module_mm)
    assert symbol.quiet_area.bottom - symbol.area.bottom == pytest.approx(4 * symbol.module_mm)


@EVERYWHERE
def test_all_of_the_longest_code_is_on_the_label_with_its_quantity(stock: Stock) -> None:
    label = ItemLabel(code=LONG_CODE, quantity="118 pcs", name="Nozzle tip", part="TIP")
    words = [
        mark.text for mark in lay_out_label(label.face(), stock).marks if isinstance(mark, Words)
    ]

    assert LONG_CODE in "".join(words)
    assert "118 pcs" in words
    assert "Nozzle tip" in words


@EVERYWHERE
def test_lots_and_cartons_have_a_place_for_the_hold_mark(stock: Stock) -> None:
    (frame,) = (
        mark
        for mark in lay_out_label(ItemLabel(code="Q").face(), stock).marks
        if isinstance(mark, Frame)
    )

    assert frame.width_mm == frame.height_mm >= 4


@EVERYWHERE
def test_days_lots_and_quantities_are_never_shortened(stock: Stock) -> None:
    label = ItemLabel(
        code="BAR-2026-0017",
        quantity="24.5 m",
        supplier="A supplier whose name goes on for very long " * 3,
        supplier_lot="H48213/7",
        made_on="2026-03-02",
        due_on="2027-03-02",
    )
    words = [
        mark.text for mark in lay_out_label(label.face(), stock).marks if isinstance(mark, Words)
    ]

    assert {"24.5 m", "H48213/7", "2026-03-02", "2027-03-02"} <= set(words)


def test_a_tall_label_says_how_much_of_the_contents_it_leaves_out() -> None:
    (thermal,) = (stock for stock in stocks() if stock.is_tall)
    rows = tuple(LabelRow(f"U-{number}", "", "1 pcs") for number in range(60))
    words = [
        mark.text
        for mark in lay_out_label(CartonLabel(code="C-1", contents=rows).face(), thermal).marks
        if isinstance(mark, Words)
    ]
    listed = sum(text.startswith("U-") for text in words)

    assert f"and {60 - listed} more" in words


@pytest.mark.parametrize("length", [60, 100, 140, 180, 220])
@EVERYWHERE
def test_a_larger_code_stays_within_the_label_or_is_refused(stock: Stock, length: int) -> None:
    label = replace(full_item_label(LONG_CODE), payload="X" * length)

    try:
        page = lay_out_label(label.face(), stock)
    except CodeTooLong:
        assert length > 60
    else:
        check(page, stock)


def test_a_tall_label_keeps_two_fifths_of_its_width_for_the_facts() -> None:
    (thermal,) = (stock for stock in stocks() if stock.is_tall)
    large = replace(full_item_label(), payload="X" * 800)

    page = lay_out_label(large.face(), thermal)

    check(page, thermal)
    assert symbol_of(page).side_mm < 0.6 * thermal.label[0]
    with pytest.raises(CodeTooLong, match="THERMAL-102"):
        lay_out_label(replace(large, payload="X" * 2000).face(), thermal)


@EVERYWHERE
@pytest.mark.parametrize("cautions", [1, 3, 6])
@pytest.mark.parametrize("length", [0, 25, 44, 80])
def test_long_cautions_stay_below_the_code_and_the_facts(
    stock: Stock, length: int, cautions: int
) -> None:
    label = replace(
        full_item_label(LONG_CODE[:length] or "Q"),
        name="A name that goes on for two lines at the least " * 2,
        revision="of the drawing that hangs at the machine",
        cautions=("Careful with this one, it is not like the others",) * cautions,
        payload="X" * 60,
    )

    check(lay_out_label(label.face(), stock), stock)
