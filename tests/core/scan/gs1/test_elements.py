"""What GS1 elements say in the words of the works."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from lotkin.core.scan import Amount, DigitalLink, ElementString, read_scan
from lotkin.core.scan.days import day_of, full_day_of

TODAY = date(2026, 7, 1)


def elements(text: str) -> ElementString:
    scan = read_scan(text)
    assert isinstance(scan, ElementString)
    return scan


def test_a_label_says_item_lot_serial_source_and_order() -> None:
    label = elements("(01)09521234543213(10)L-7(21)0042(251)H48213(400)PO-1(241)100-0815")

    assert label.gtin == "09521234543213"
    assert (label.lot, label.serial, label.source) == ("L-7", "0042", "H48213")
    assert (label.order, label.customer_part) == ("PO-1", "100-0815")
    assert label.sscc == label.content_gtin == label.expiry == ""
    assert label.quantity is None
    assert label.expires_on(TODAY) is None


def test_a_pallet_says_its_number_and_what_is_on_it() -> None:
    label = elements("(00)395212345678901236(02)09521234543213(37)25")

    assert (label.sscc, label.content_gtin, label.gtin) == (
        "395212345678901236",
        "09521234543213",
        "",
    )
    assert label.quantity == Amount(Decimal(25), "pcs")


@pytest.mark.parametrize(
    ("ai", "value", "amount"),
    [
        ("3103", "001234", Amount(Decimal("1.234"), "kg")),
        ("3100", "000012", Amount(Decimal(12), "kg")),
        ("3112", "000350", Amount(Decimal("3.50"), "m")),
        ("30", "40", Amount(Decimal(40), "pcs")),
    ],
)
def test_a_quantity_has_its_unit_and_its_decimals(ai: str, value: str, amount: Amount) -> None:
    label = elements(f"(01)09521234543213({ai}){value}")

    assert label.quantity == amount
    assert label.elements[1].title


def test_a_label_in_pieces_of_an_item_says_its_item() -> None:
    assert elements("(8006)095212345432130102(21)7").gtin == "09521234543213"


def test_a_day_of_production_may_come_with_the_hour() -> None:
    label = elements("(01)09521234543213(8008)26022807(17)270200")

    assert label.production == "260228"
    assert label.produced_on(TODAY) == date(2026, 2, 28)
    assert label.expires_on(TODAY) == date(2027, 2, 28)


# Source: GS1 General Specifications, section 7.12 (from memory): more than 50 years ahead is the
# century before, more than 49 back the next one; day 00 is the last of the month (AI 11 to 17).
@pytest.mark.parametrize(
    ("written", "day"),
    [
        ("260701", date(2026, 7, 1)),
        ("760101", date(2076, 1, 1)),
        ("770101", date(1977, 1, 1)),
        ("990228", date(1999, 2, 28)),
        ("280200", date(2028, 2, 29)),
        ("260200", date(2026, 2, 28)),
    ],
)
def test_the_century_is_the_nearest_and_day_00_the_last(written: str, day: date) -> None:
    assert day_of(written, TODAY) == day


@pytest.mark.parametrize(
    ("today", "year"), [(1999, 2049), (2000, 2050), (2000, 1951), (2001, 2051)]
)
def test_the_century_moves_with_the_year(today: int, year: int) -> None:
    found = day_of(f"{year % 100:02}0630", date(today, 1, 1))

    assert found == date(year, 6, 30)


def test_late_in_a_century_a_low_year_is_of_the_next() -> None:
    assert day_of("050101", date(2090, 1, 1)) == date(2105, 1, 1)


@pytest.mark.parametrize("written", ["", "26070", "261301", "260631", "٢٦٠٧٠١", "2607011"])
def test_what_is_no_date_gives_no_day(written: str) -> None:
    assert day_of(written, TODAY) is None
    assert full_day_of(written) is None


@pytest.mark.parametrize("written", ["20260229", "00000101", "20261301", "2026O101"])
def test_what_is_no_full_date_gives_no_day(written: str) -> None:
    assert full_day_of(written) is None


def test_a_leap_day_that_the_century_does_not_have_gives_no_day() -> None:
    """The digits 000229 are right for 2000; near the year 2100 they mean a day that is none."""
    assert day_of("000229", date(2090, 1, 1)) is None
    assert day_of("000229", date(2026, 1, 1)) == date(2000, 2, 29)


def test_a_link_says_the_same_as_a_label() -> None:
    link = read_scan("HTTPS://TRACE.EXAMPLE/GS1/01/09521234543213/10/L-7?17=270200")

    assert isinstance(link, DigitalLink)
    assert (link.gtin, link.lot) == ("09521234543213", "L-7")
    assert link.expires_on(TODAY) == date(2027, 2, 28)
    assert link.stem == "HTTPS://TRACE.EXAMPLE/GS1"
