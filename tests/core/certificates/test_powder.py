"""Batch, expiry and moisture on certificates of powder; all of these are invented."""

from __future__ import annotations

import pytest

from lotkin.core.certificates import lines_of_text, read_certificate


def expiries(*lines: str) -> list[str]:
    return [found.value for found in read_certificate(lines_of_text("\n".join(lines))).expiries]


def moisture(*lines: str) -> str | None:
    found = read_certificate(lines_of_text("\n".join(lines))).moisture_percent
    return None if found is None else found.value


def notes(line: str) -> tuple[str, ...]:
    return read_certificate(lines_of_text(line)).notes


@pytest.mark.parametrize(
    "line",
    [
        "Best before 07.11.2028",
        "Best before: 2028-11-07",
        "Use by 7 Nov 2028",
        "Expiry date   07-NOV-2028",
        "Mindestens haltbar bis 07.11.2028",
        "Verwendbar bis: 7. November 2028",
        "Data di scadenza: 07.11.2028",
        "Da consumarsi entro il 7 novembre 2028",
        "À utiliser avant le 07.11.2028",
        "Date de péremption : 7 novembre 2028",
        "Production date 07.11.2026 Expiry date 07.11.2028",
    ],
)
def test_a_printed_expiry_is_read_in_the_languages_of_suppliers(line: str) -> None:
    assert expiries(line) == ["2028-11-07"]


@pytest.mark.parametrize(
    "line",
    [
        "Best before 07/11/2028",
        "Best before 11/2028",
        "Use by 31.02.2028",
        "Expiry date: see label, lot 4711",
    ],
)
def test_a_day_that_may_be_another_is_not_read_and_that_is_said(line: str) -> None:
    assert expiries(line) == []
    assert notes(line) == (f"expiry: its day is not clear: {line}",)


@pytest.mark.parametrize(
    "line",
    [
        "Date of issue 07.11.2028",
        "ISO 9001 certificate expiry date 07.11.2028",
        "Calibration of the balance expires on 2028-11-07",
        "Manufactured 07.11.2028",
    ],
)
def test_another_date_is_never_taken_for_the_expiry(line: str) -> None:
    assert expiries(line) == []
    assert notes(line) == ()


def test_a_day_that_only_one_order_allows_is_read() -> None:
    assert expiries("Use by 25/11/2028") == ["2028-11-25"]


def test_two_expiries_are_both_told() -> None:
    assert expiries("Best before 07.11.2028", "Best before 08.11.2028") == [
        "2028-11-07",
        "2028-11-08",
    ]


@pytest.mark.parametrize(
    ("line", "value"),
    [
        ("Moisture 0.08 %", "0.08"),
        ("Moisture content [%] 0,08", "0.08"),
        ("Water content (ISO 15512) 0.08 %", "0.08"),
        ("Restfeuchte: 0,08 %", "0.08"),
        ("Umidità 0,08 %", "0.08"),
        ("Teneur en eau 0,08 %", "0.08"),
    ],
)
def test_moisture_is_read(line: str, value: str) -> None:
    assert moisture(line) == value


@pytest.mark.parametrize(
    "line",
    [
        "Moisture max. 0.15 %",
        "Moisture < 0.10 %",
        "Moisture 0.15 % 0.08 %",
        "Moisture % 0.15 0.08",
        "Moisture 800 ppm",
        "Moisture 0.08",
        "Moisture 140 %",
    ],
)
def test_a_limit_or_an_unclear_number_is_never_the_moisture(line: str) -> None:
    assert moisture(line) is None
    assert notes(line) == (f"moisture: its value is not clear: {line}",)


def test_the_moisture_of_the_air_is_not_that_of_the_powder() -> None:
    assert moisture("Store dry, relative moisture below 50 %") is None


def test_a_column_of_limits_holds_no_moisture_that_was_measured() -> None:
    assert moisture("Property Specification", "Moisture 0.15 %") is None
    assert moisture("Property Result", "Moisture 0.15 %") == "0.15"


def test_two_moistures_are_none() -> None:
    assert moisture("Moisture 0.08 %", "Moisture 0.09 %") is None


@pytest.mark.parametrize(
    "line",
    ["Batch no.: GW-4711", "Lot GW-4711", "Chargennummer: GW-4711", "Lotto n° GW-4711"],
)
def test_a_batch_is_read(line: str) -> None:
    read = read_certificate(lines_of_text(line))
    assert [found.value for found in read.batches] == ["GW-4711"]


def test_words_without_a_digit_are_no_batch() -> None:
    assert read_certificate(lines_of_text("Lot size: large")).batches == ()
