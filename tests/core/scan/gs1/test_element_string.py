"""GS1 element strings: writing and reading are each other's inverse; what is refused."""

from __future__ import annotations

import pytest
from hypothesis import given

from lotkin.core.scan import (
    Element,
    ElementString,
    Unreadable,
    bracketed,
    element_string,
    read_scan,
)
from lotkin.core.scan.gs1.ai_table import application_identifiers, identifier_at
from tests.core.scan.made_labels import ELEMENTS

ITEM = Element("01", "09521234543213")


@given(ELEMENTS)
def test_reading_what_was_written_gives_the_same_elements(elements: list[Element]) -> None:
    scan = read_scan("]d2" + element_string(elements))

    assert isinstance(scan, ElementString)
    assert scan.elements == tuple(elements)


@given(ELEMENTS)
def test_the_check_digit_of_the_item_is_proof_enough_without_the_scanner(
    elements: list[Element],
) -> None:
    scan = read_scan(element_string(elements))

    assert isinstance(scan, ElementString)
    assert scan.elements == tuple(elements)


@given(ELEMENTS)
def test_reading_what_was_printed_gives_the_same_elements(elements: list[Element]) -> None:
    scan = read_scan(bracketed(elements))

    assert isinstance(scan, ElementString)
    assert scan.elements == tuple(elements)


@given(ELEMENTS)
def test_a_separator_too_many_after_each_element_changes_nothing(elements: list[Element]) -> None:
    written = "".join(f"{each.ai}{each.value}\x1d" for each in elements)
    scan = read_scan("]C1" + written)

    assert isinstance(scan, ElementString)
    assert scan.elements == tuple(elements)


@pytest.mark.parametrize(
    "text",
    ["\x1d01095212345432130", "0109521234543213\x1d\x1d10A", "0109521234543213\x1d10A\x1d\x1d",
     "010952123454321310", "0109521234543213\x1d1"],
)  # fmt: skip
def test_an_empty_or_broken_element_is_refused(text: str) -> None:
    assert isinstance(read_scan("]d2" + text), Unreadable)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("(10)AB(C(21)1", "the brackets do not tell the elements apart at (C(21)1"),
        ("(01)09521234543213(10)AB21)1", "the brackets do not tell the elements apart at )1"),
        ("(10)", "AI (10) is empty"),
        ("(10)A(10)", "AI (10) is empty"),
        ("(19)A", "(19) is no GS1 Application Identifier"),
        ("(01)09521234543213(10)A B", "AI (10) has a character outside of GS1 character set 82"),
        ("(01)09521234543213(10)A(10)B", "AI (10) has two different values"),
        ("(01)09521234543213(17)260230", "AI (17) has no such day in its month"),
        ("(01)09521234543213(3103)00012", "AI (3103) is too short"),
        ("(01)095212345432131", "AI (01) is too long"),
        ("(8010)952114abc", "AI (8010) has a character outside of GS1 character set 39"),
        ("(8010)ABC1", "AI (8010) begins with no GS1 company prefix"),
    ],
)
def test_what_is_printed_wrongly_is_refused_with_the_reason(text: str, why: str) -> None:
    scan = read_scan(text)

    assert isinstance(scan, Unreadable)
    assert scan.why == why


def test_blanks_between_printed_elements_are_no_data() -> None:
    scan = read_scan("(01) 09521234543213 (10) ABC123")

    assert isinstance(scan, ElementString)
    assert scan.lot == "ABC123"


def test_brackets_of_the_data_are_marked_in_print() -> None:
    assert bracketed([ITEM, Element("10", "A(1)")]) == r"(01)09521234543213(10)A\(1\)"


@pytest.mark.parametrize(
    "elements",
    [[Element("10", "A")], [ITEM, Element("10", "A B")], [Element("19", "A")],
     [ITEM, Element("10", "A"), Element("10", "B")], [Element("01", "09521234543214")]],
)  # fmt: skip
def test_what_could_not_be_read_again_is_not_written(elements: list[Element]) -> None:
    with pytest.raises(ValueError, match=r"AI|\(19\)"):
        element_string(elements)


# --- the table


def test_the_table_holds_all_identifiers_of_the_dictionary_and_none_begins_another() -> None:
    """Source: GS1 Barcode Syntax Dictionary @ff2eb4b: 541 identifiers."""
    table = application_identifiers()

    assert len(table) == 541
    for ai, entry in table.items():
        found = identifier_at(ai + "0")
        assert found is entry
        assert entry.ai == ai


# Source: GS1 General Specifications: of the identifiers in use only those that begin with these
# two digits need no separator (the list is from memory).
NO_SEPARATOR = {"00", "01", "02", "03", "11", "12", "13", "15", "16", "17", "20",
                "31", "32", "33", "34", "35", "36", "41"}  # fmt: skip


def test_only_the_identifiers_of_predefined_length_need_no_separator() -> None:
    table = application_identifiers()

    assert {ai[:2] for ai, entry in table.items() if not entry.needs_separator} == NO_SEPARATOR
    assert {ai[:2] for ai, entry in table.items() if entry.needs_separator}.isdisjoint(NO_SEPARATOR)


def test_every_rule_of_the_table_names_identifiers_that_are_in_it() -> None:
    table = application_identifiers()
    for entry in table.values():
        named = {*entry.excludes}.union(*entry.requires, *entry.paths)
        for pattern in named:
            prefix = pattern.rstrip("n")
            assert any(ai.startswith(prefix) and len(ai) == len(pattern) for ai in table), pattern


def test_the_count_of_contents_goes_with_a_pallet_only() -> None:
    pallet = "(00)395212345678901236(02)09521234543213(37)10"

    assert isinstance(read_scan(pallet), ElementString)
    assert isinstance(read_scan(pallet.replace("(37)10", "")), Unreadable)
    assert isinstance(read_scan("(02)09521234543213(37)10"), Unreadable)
