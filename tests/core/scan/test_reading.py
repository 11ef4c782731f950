"""What a scan is told to be, and that any text is told to be something."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from lotkin.core.scan import (
    BareText,
    DigitalLink,
    Element,
    ElementString,
    Message06,
    OwnCode,
    Unreadable,
    read_scan,
)
from lotkin.core.values.codes import new_code, qr_payload
from tests.core.scan.made_labels import ANY_TEXT, PIECES, message

# --- format 05

UID = "[)>\x1e05\x1d800412345678ABC\x1d21S-1\x1d95X\x1d240PN-7\x1e\x04"
"""Elements as in the example of MIL-STD-130N, figure 8: a serial without a GTIN."""


def test_a_message_of_format_05_is_read_with_a_warning_where_others_are_missing() -> None:
    scan = read_scan(UID)
    assert isinstance(scan, ElementString)
    assert [(each.ai, each.value) for each in scan.elements] == [
        ("8004", "12345678ABC"),
        ("21", "S-1"),
        ("95", "X"),
        ("240", "PN-7"),
    ]
    assert scan.warnings == ("AI (21) needs other elements with it: 01, 03, 8006",)


def test_a_message_of_format_05_that_contradicts_itself_is_refused() -> None:
    scan = read_scan("[)>\x1e05\x1d21A\x1d21B\x1e\x04")
    assert isinstance(scan, Unreadable)
    assert scan.why == "AI (21) has two different values"


def test_a_barcode_of_gs1_with_a_serial_alone_is_refused_as_before() -> None:
    assert isinstance(read_scan("]C121S-1"), Unreadable)


# --- laws


@given(st.one_of(ANY_TEXT, PIECES))
@example("")
@example("\x1d" * 9000)
@example("https://[/01/09521234543213")
def test_any_text_is_told_to_be_something(raw: str) -> None:
    scan = read_scan(raw)

    assert scan.raw == raw
    assert isinstance(scan, Unreadable) is hasattr(scan, "why")


@given(st.binary(max_size=60))
def test_any_bytes_are_told_to_be_something(raw: bytes) -> None:
    for text in (raw.decode("latin-1"), raw.decode("utf-8", errors="surrogateescape")):
        assert read_scan(text).raw == text


@given(st.one_of(ANY_TEXT, PIECES))
def test_why_a_scan_is_unreadable_can_be_printed(raw: str) -> None:
    scan = read_scan(raw)

    said = [*scan.warnings, *([scan.why] if isinstance(scan, Unreadable) else [])]
    assert all(text.isprintable() and text.encode() for text in said)


@given(st.one_of(ANY_TEXT, PIECES))
def test_what_the_scanner_sends_after_the_data_changes_nothing(raw: str) -> None:
    kept = read_scan(raw.strip("\r\n\t"))
    with_return = read_scan(raw.strip("\r\n\t") + "\r\n")

    assert type(kept) is type(with_return)


# --- our own codes


@given(st.integers(0, 31**7 - 1), st.sampled_from([None, "https://trace.example/shop"]))
def test_what_our_qr_codes_hold_is_our_code(number: int, base_url: str | None) -> None:
    code = new_code(number)
    scan = read_scan(qr_payload(code, base_url))

    assert isinstance(scan, OwnCode)
    assert scan.code == code
    assert scan.base_url == (base_url or "").upper()


ITEM_CODES = st.text("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789$%*+-./:", min_size=1, max_size=30)


def test_a_code_that_begins_like_our_marker_is_read_whole() -> None:
    scan = read_scan(qr_payload("I/0", "https://trace.example"))

    assert isinstance(scan, OwnCode)
    assert (scan.code, scan.base_url) == ("I/0", "HTTPS://TRACE.EXAMPLE")


@given(ITEM_CODES.filter(lambda code: not code.endswith("/") and "//" not in code))
def test_the_address_of_any_item_leads_to_its_code(code: str) -> None:
    scan = read_scan(qr_payload(code, "https://trace.example"))

    assert isinstance(scan, OwnCode)
    assert scan.code == code


@pytest.mark.parametrize(
    "text", ["n6xv-dqzk", " N6XV-DQZK\r", "n6xv dqzk", "]Q1N6XV-DQZK", "]C0N6XV-DQZK"]
)
def test_a_code_as_it_is_printed_is_ours_however_it_came(text: str) -> None:
    scan = read_scan(text)

    assert isinstance(scan, OwnCode)
    assert scan.code == "N6XV-DQZK"


def test_a_number_without_our_hyphens_is_not_taken_for_ours() -> None:
    assert read_scan("N6XVDQZK") == BareText("N6XVDQZK", "N6XVDQZK")


def test_the_address_is_ours_in_small_letters_too_unless_it_is_a_digital_link() -> None:
    ours = read_scan("https://trace.example/i/PUMP-001")
    foreign = read_scan("https://brand.example/i/01/09521234543213")

    assert isinstance(ours, OwnCode)
    assert ours.code == "PUMP-001"
    assert isinstance(foreign, DigitalLink)


def test_a_state_of_a_serial_is_not_taken_for_a_digital_link() -> None:
    scan = read_scan("HTTPS://TRACE.EXAMPLE/I/8004/2")

    assert isinstance(scan, OwnCode)
    assert scan.code == "8004/2"


# --- GS1 data


def test_gs1_data_need_a_right_check_digit_where_the_scanner_says_nothing() -> None:
    right, wrong = read_scan("010952123454321310A"), read_scan("010952123454321410A")

    assert isinstance(right, ElementString)
    assert right.lot == "A"
    assert isinstance(wrong, BareText)
    assert "the last digit should be 3" in wrong.warnings[0]


@pytest.mark.parametrize("number", ["400123", "91ABC", "9012", "10ABC123", "21", "0115", "H48213"])
def test_an_ordinary_number_is_not_taken_for_gs1_data(number: str) -> None:
    assert read_scan(number) == BareText(number, number)


def test_gs1_data_may_begin_with_their_mark_itself() -> None:
    scan = read_scan("\x1d400PO4711")

    assert isinstance(scan, ElementString)
    assert scan.order == "PO4711"


def test_a_separator_makes_wrong_gs1_data_unreadable() -> None:
    scan = read_scan("010952123454321410A\x1d21B")

    assert isinstance(scan, Unreadable)
    assert scan.why == "AI (01) has a wrong check digit; the last digit should be 3"
    assert scan.form == "GS1 element string"


def test_printed_pictures_of_the_separator_are_put_right_with_a_warning() -> None:
    scan = read_scan("010952123454321310A␝21B")

    assert isinstance(scan, ElementString)
    assert (scan.lot, scan.serial) == ("A", "B")
    assert scan.warnings == ("control characters came as pictures of them",)


@pytest.mark.parametrize(
    ("scan", "gtin"), [("]E09521234543213", "09521234543213"), ("]E496385074", "00000096385074")]
)
def test_a_retail_barcode_is_the_number_of_an_item(scan: str, gtin: str) -> None:
    found = read_scan(scan)

    assert isinstance(found, ElementString)
    assert found.elements == (Element("01", gtin),)


@pytest.mark.parametrize("scan", ["]E0952123454321", "]E09521234543214", "]E0A521234543213"])
def test_a_wrong_retail_barcode_is_unreadable(scan: str) -> None:
    assert isinstance(read_scan(scan), Unreadable)


# --- everything else


@pytest.mark.parametrize(
    ("raw", "why"),
    [
        ("", "nothing was read"),
        (" \t\r\n", "nothing was read"),
        ("A\x07B", "the character ␇ U+0007 is in it"),
        ("A\u200bB", "the character ? U+200B is in it"),
        ("7" * 9000, "it is longer than any barcode"),
        ("]d2", "there is no data in it"),
    ],
)
def test_what_cannot_be_read_says_why(raw: str, why: str) -> None:
    scan = read_scan(raw)

    assert isinstance(scan, Unreadable)
    assert scan.why == why


def test_any_other_text_is_left_as_it_is() -> None:
    assert read_scan("Größe 7 ") == BareText("Größe 7 ", "Größe 7")


def test_a_web_address_that_is_nothing_of_ours_is_a_text_with_a_warning() -> None:
    scan = read_scan("https://supplier.example/box/4711")

    assert isinstance(scan, BareText)
    assert scan.warnings


def test_an_address_with_a_code_that_no_item_can_have_is_not_ours() -> None:
    assert isinstance(read_scan("HTTPS://TRACE.EXAMPLE/I/%00"), BareText)


def test_a_message_is_read_behind_a_symbology_identifier() -> None:
    assert isinstance(read_scan("]d1" + message([])), Unreadable)
    assert isinstance(read_scan("]d1[)>\x1e06\x1d1TA\x1e\x04"), Message06)
