"""Numbers, lengths, days and values as people type them."""

from __future__ import annotations

from contextlib import suppress
from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.goods_in.typed_values import (
    composition_of,
    day_or_moment,
    length_mm,
    moment_of,
    number,
    results_of,
)
from lotkin_cli.asking import whole_label


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("30", "30"),
        (" 12.5 ", "12.5"),
        ("12,5", "12.5"),
        ("0,125", "0.125"),
        ("0.000001", "0.000001"),
    ],
)
def test_a_number_has_a_point_or_a_comma(text: str, value: str) -> None:
    assert number(text) == Decimal(value)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("1,250", "is one number or another"),
        ("", "is no number"),
        ("-1", "is no number"),
        ("1e9", "is no number"),
        ("NaN", "is no number"),
        ("1.0000001", "is no number"),
        ("12 kg", "is no number"),
        ("9" * 13, "is no number"),
        ("\u0661", "is no number"),
    ],
)
def test_what_may_mean_something_else_is_no_number(text: str, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        number(text)


@pytest.mark.parametrize(
    ("text", "length"),
    [("3000", "3000"), ("3000mm", "3000"), ("3 m", "3000"), ("3.05M", "3050"), ("12,5 mm", "12.5")],
)
def test_a_length_is_in_millimetres_unless_it_says_metres(text: str, length: str) -> None:
    assert str(length_mm(text)) == length


def test_other_units_are_no_length() -> None:
    with pytest.raises(ValueError, match="is no length, like 3000 or 3 m"):
        length_mm("10 ft")


def test_a_day_is_a_day_and_a_moment_a_moment() -> None:
    noon = datetime(2027, 3, 1, 12, tzinfo=UTC)
    assert day_or_moment("2027-03-01") == date(2027, 3, 1)
    assert day_or_moment("2027-03-01T13:00:00+01:00") == noon
    assert moment_of("2027-03-01T12:00:00Z") == noon


@pytest.mark.parametrize("text", ["", "2027", "2027-13-01", "01.03.2027", "2027-03-01T12:00:00"])
def test_neither_day_nor_moment_is_told(text: str) -> None:
    with pytest.raises(ValueError, match="is no day like 2027-03-01 and no moment like"):
        day_or_moment(text)
    with pytest.raises(ValueError, match="is no moment like"):
        moment_of(text)


@pytest.mark.parametrize(
    "text",
    [
        "C 0.08, Mn 1.05, Pb 0.27",
        "C=0.08 Mn=1.05 Pb=0.27",
        "C: 0,08; MN: 1,05; PB: 0,27 %",
        "C=0.08,Mn=1.05,Pb=0.27",
        "c 0.08 mn 1.05 pb 0.27",
    ],
)
def test_a_composition_is_read_in_any_of_the_usual_ways(text: str) -> None:
    values = {"C": Decimal("0.08"), "Mn": Decimal("1.05"), "Pb": Decimal("0.27")}
    assert composition_of(text) == values


def test_a_property_may_have_several_results() -> None:
    assert results_of("Rm 560 571, Rp0,2 470; A5=9.5 HB 165") == {
        "Rm": (Decimal(560), Decimal(571)),
        "Rp0.2": (Decimal(470),),
        "A": (Decimal("9.5"),),
        "HBW": (Decimal(165),),
    }


def test_nothing_is_no_values() -> None:
    assert composition_of("") == {}
    assert results_of(" ") == {}


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("Xx 1", "'Xx' is not known; write it like Ac, Ag, Al"),
        ("C", "C has no value"),
        ("C 1 C 2", "C stands there twice"),
        ("0.08", "a symbol is missing before 0.08"),
        ("C 0.08 0.09", "C has several values"),
        ("C abc", "'abc' is not known"),
        ("C 1,050", "is one number or another"),
    ],
)
def test_a_composition_that_is_not_clear_is_told(text: str, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        composition_of(text)


@given(st.text(max_size=60))
def test_any_text_is_read_or_told(text: str) -> None:
    for read in (number, length_mm, day_or_moment, moment_of, composition_of, results_of):
        with suppress(ValueError):
            assert read(text) is not None


def test_a_terminal_takes_the_end_off_a_label_and_it_is_put_back() -> None:
    label = "[)>\x1e06\x1dPBAR-8\x1e"
    assert whole_label(label) == label + "\x04"
    assert whole_label(label + "\x04") == label + "\x04"
    assert whole_label("BAR-8") == "BAR-8"
