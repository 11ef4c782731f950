"""Suppliers' labels: what they say, which damage is repaired, which is refused."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.scan import Amount, ElementString, Field, Message06, Unreadable, read_scan
from tests.core.scan.made_labels import FIELDS, message

BAR = [
    Field("P", "100-0815"),
    Field("1P", "CW614N-D12"),
    Field("1T", "H48213"),
    Field("7Q", "250.5KG"),
    Field("K", "4500012345"),
    Field("V", "70021"),
    Field("11K", "DN-88"),
    Field("16D", "20240418"),
    Field("14D", "20290400"),
]


def read(text: str) -> Message06:
    scan = read_scan(text)
    assert isinstance(scan, Message06), scan
    return scan


# --- what it says


def test_a_delivery_label_says_what_goods_in_asks_for() -> None:
    label = read(message(BAR))

    assert label.fields == tuple(BAR)
    assert (label.item_code, label.heat_or_lot, label.supplier) == ("100-0815", "H48213", "70021")
    assert (label.order, label.delivery_note, label.serial) == ("4500012345", "DN-88", "")
    assert label.quantity == Amount(Decimal("250.5"), "KG")
    assert label.produced_on == date(2024, 4, 18)
    assert label.expires_on == date(2029, 4, 30)
    assert label.is_complete
    assert label.warnings == ()


def test_the_suppliers_own_words_are_taken_where_ours_are_missing() -> None:
    label = read(
        message([Field("1P", "B"), Field("T", "L"), Field("1V", "W"), Field("14K", "G+2")])
    )

    assert (label.item_code, label.heat_or_lot, label.supplier, label.order) == ("B", "L", "W", "G")


def test_a_quantity_may_have_its_unit_in_a_field_of_its_own() -> None:
    assert read(message([Field("Q", "40"), Field("3Q", "PC")])).quantity == Amount(
        Decimal(40), "PC"
    )
    assert read(message([Field("Q", "40")])).quantity == Amount(Decimal(40), "")


def test_a_quantity_that_is_no_number_is_told_and_not_guessed() -> None:
    label = read(message([Field("Q", "4O")]))

    assert label.quantity is None
    assert label.warnings == ("Q (quantity, numeric, unit agreed) should be n, not 4O",)


def test_two_heats_on_one_label_are_given_both_and_none_is_chosen() -> None:
    label = read(message([Field("1T", "A"), Field("1T", "B"), Field("1T", "A")]))

    assert label.values("1T") == ("A", "B")
    assert label.heat_or_lot == ""


def test_empty_fields_and_a_separator_before_the_end_are_sound() -> None:
    label = read("[)>\x1e06\x1dP\x1d\x1d1TA\x1d\x1e\x04")

    assert label.fields == (Field("P", ""), Field("1T", "A"))
    assert label.warnings == ()


def test_further_formats_are_named_and_not_read() -> None:
    label = read("[)>\x1e06\x1d1TA\x1e12\x1dSER 5\x1e\x04")

    assert label.fields == (Field("1T", "A"),)
    assert label.warnings == ("the label says more in format 12, which was not read",)


def test_a_message_of_gs1_elements_is_read_as_such() -> None:
    scan = read_scan("[)>\x1e05\x1d010952123454321310A\x1d21B\x1e\x04")

    assert isinstance(scan, ElementString)
    assert (scan.lot, scan.serial) == ("A", "B")


# --- damage


@given(FIELDS)
def test_a_sound_message_gives_its_fields(fields: list[Field]) -> None:
    assert read(message(fields)).fields == tuple(fields)


STARTS = {"[)>\x1e": 0, "[)>\x1d": 1, "[)>": 1, ">[)>\x1e": 1, "x[)>": 2}
ENDS = {"\x1e\x04": 0, "\x1e": 1, "\x1d\x04": 1, "\x04": 1, "\x1d": 2, "": 3}


@given(FIELDS, st.sampled_from(sorted(STARTS)), st.sampled_from(sorted(ENDS)))
def test_every_repair_gives_the_same_fields_and_one_warning_each(
    fields: list[Field], start: str, end: str
) -> None:
    label = read(message(fields, start=start, end=end))

    assert label.fields == tuple(fields)
    odd = len(read(message(fields)).warnings)
    assert len(label.warnings) == odd + STARTS[start] + ENDS[end]
    assert label.is_complete is (end != "")


@given(FIELDS)
def test_pictures_of_the_separators_are_put_right(fields: list[Field]) -> None:
    pictures = str.maketrans({"\x1d": "␝", "\x1e": "␞", "\x04": "␄"})
    label = read(message(fields).translate(pictures))

    assert label.fields == tuple(fields)
    assert label.warnings[0] == "control characters came as pictures of them"


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("[)>\x1e061TH1Q40\x1e\x04", "the separators between its fields got lost"),
        ("[)>061TH1Q40", "the separators between its fields got lost"),
        ("[)> 06 1TH1 Q40", "no format of two digits begins  06 1TH…"),
        ("[)>\x1e06\x1d1TH1\x1d40\x1e\x04", "no data identifier begins the field 40"),
        ("[)>\x1e06\x1d1th1\x1e\x04", "no data identifier begins the field 1th1"),
        ("[)>\x1d06\x1d1TH1\x1d12\x1dX\x1d\x04", "no data identifier begins the field 12"),
        ("[)>\x1e06\x1d1TH1\x0aQ40\x1e\x04", "a separator got lost in the field 1TH1␊Q40"),
        ("[)>\x1e06\x1e1TH1\x1eQ40\x1e\x04", "no format of two digits begins 1TH1"),
        ("[)>\x1e06\x1d1TA\x1e\x04[)>\x1e06\x1d1TB\x1e\x04", "two labels were read as one"),
        ("[)>\x1e06\x1d1TA\x1e\x04X", "there is something after the end of the message"),
        ("[)>\x1e06\x1d\x1e\x04", "there are no fields in it"),
        ("[)>\x1e07FREE TEXT\x1e\x04", "format 07 is not read here, only 06 and one 05"),
        ("[)>", "no format of two digits begins the data"),
    ],
)
def test_where_only_a_guess_is_left_the_label_is_refused(text: str, why: str) -> None:
    scan = read_scan(text)

    assert isinstance(scan, Unreadable)
    assert scan.why == why
    assert scan.form == "ISO/IEC 15434 message"


def test_a_label_that_lost_its_beginning_is_refused() -> None:
    assert isinstance(read_scan("06\x1d1TH1\x1dQ40\x1e\x04"), Unreadable)
