"""GS1 Digital Links: writing and reading are each other's inverse; what is refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.scan import DigitalLink, Element, OwnCode, Unreadable, digital_link, read_scan
from lotkin.core.scan.gs1.digital_link import read_digital_link
from tests.core.scan.made_labels import ELEMENTS

STEMS = st.sampled_from(["https://id.gs1.org", "HTTPS://TRACE.EXAMPLE/SHOP/", "http://10.0.0.7:80"])


@given(ELEMENTS, STEMS)
def test_reading_what_was_written_gives_the_same_elements(
    elements: list[Element], stem: str
) -> None:
    scan = read_scan(digital_link(elements, stem))

    assert isinstance(scan, DigitalLink)
    assert set(scan.elements) == set(elements)
    assert len(scan.elements) == len(elements)
    assert scan.stem == stem.rstrip("/")


def test_a_lot_that_is_called_i_does_not_make_it_an_address_of_ours() -> None:
    scan = read_scan("https://id.gs1.org/01/09520000000004/10/I/21/0")

    assert isinstance(scan, DigitalLink)
    assert set(scan.elements) == {
        Element("01", "09520000000004"),
        Element("10", "I"),
        Element("21", "0"),
    }
    own = read_scan("HTTPS://TRACE.EXAMPLE/SHOP/I/01/09520000000004")
    assert isinstance(own, OwnCode)
    assert own.code == "01/09520000000004"


@pytest.mark.parametrize(
    ("url", "why"),
    [
        ("https://a.example/01/09521234543213?999=X", "999 in its query is no GS1"),
        ("https://a.example/01/09521234543213?99=", r"AI \(99\) is empty"),
        ("https://a.example/01/09521234543213?99=A+B", r"AI \(99\) has a character outside"),
        ("https://a.example/01/09521234543213?99=A&99=A", r"AI \(99\) is there twice"),
        ("https://a.example/01/09521234543213?21=7", r"AI \(21\) must not stand in the query"),
        ("https://a.example/01/09521234543213/10/%C3%84", r"AI \(10\) has a character outside"),
        ("https://a.example/01/09521234543213/10/%00", r"AI \(10\) has a character outside"),
        ("https://a.example/01/9521234543213", r"AI \(01\) is too short"),
        ("https://a.example/01/09521234543213?37=4", r"AI \(01\) must not come with AI \(37\)"),
        ("https://a.example/about", "no GS1 key in its path"),
        ("https://a.example", "no web address with a path"),
        ("https://a.example/01/09521234543213/10/<A>", "no web address with a path"),
    ],
)
def test_what_breaks_a_rule_is_refused_with_the_reason(url: str, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        read_digital_link(url)
    assert not isinstance(read_scan(url), DigitalLink)


def test_a_link_to_an_asset_may_say_its_item_in_a_shorter_number() -> None:
    """Source: an example of the GS1 Digital Link standard, as judged by GS1's own engine."""
    scan = read_scan("https://example.com/8004/9520614141234567?01=9520123456788")

    assert isinstance(scan, DigitalLink)
    assert scan.gtin == "09520123456788"


def test_only_the_last_key_in_a_path_counts() -> None:
    """Source: a case of GS1's own engine: what looks like a key earlier is part of the address."""
    scan = read_scan("https://a.example/00/faux/00/006141411234567890")

    assert isinstance(scan, DigitalLink)
    assert scan.sscc == "006141411234567890"
    assert scan.stem == "https://a.example/00/faux"


def test_a_wrong_link_is_unreadable_and_not_just_a_text() -> None:
    scan = read_scan("https://a.example/01/09521234543214")

    assert isinstance(scan, Unreadable)
    assert scan.form == "GS1 Digital Link"


def test_a_lot_beside_a_third_partys_serial_goes_into_the_query() -> None:
    item, lot, serial = (
        Element("01", "09521234543213"),
        Element("10", "A"),
        Element("235", "TPX1"),
    )

    assert digital_link([item, lot, serial]) == (
        "https://id.gs1.org/01/09521234543213/235/TPX1?10=A"
    )


def test_elements_without_a_key_make_no_link() -> None:
    with pytest.raises(ValueError, match="key"):
        digital_link([Element("400", "PO-1")])


def test_an_element_without_a_place_makes_no_link() -> None:
    pallet = [Element("00", "395212345678901236"), Element("01", "09521234543213")]

    with pytest.raises(ValueError, match=r"AI \(21\) must not stand in the query"):
        digital_link([*pallet, Element("21", "7")])
