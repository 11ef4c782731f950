"""Check digits of GTINs.

Source of the values: GS1's demonstration and worked numbers, each confirmed by two independent
libraries (biip 5.2.0, python-stdnum 2.2); the vectors marked "linter" are unit vectors of the
official reference linter, gs1/gs1-syntax-dictionary @ff2eb4b, Apache-2.0, GS1 AISBL.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.plan import gtin_problem
from tests.core.plan.small_shop import changed, line_in, only, small_shop

RIGHT = [
    "12345670",
    "96385074",
    "614141000012",
    "036000291452",
    "416000336108",  # linter
    "6291041500213",
    "9521234543213",
    "4012345000016",
    "5412345000013",
    "1234567890128",  # linter
    "09521234543213",
    "10614141123459",
    "09520123456788",
    "12345678901231",  # linter
    "02345673",  # linter
]
WRONG = ["12345673", "416000336109", "1234567890129", "12345678901232"]  # linter


@pytest.mark.parametrize("gtin", RIGHT)
def test_published_numbers_are_right(gtin: str) -> None:
    assert gtin_problem(gtin) == ""


@pytest.mark.parametrize("gtin", WRONG)
def test_published_wrong_numbers_are_found_out(gtin: str) -> None:
    assert gtin_problem(gtin).startswith("has a wrong check digit")


@given(st.sampled_from(RIGHT), st.data())
def test_every_change_of_one_digit_is_found_out(gtin: str, data: st.DataObject) -> None:
    place = data.draw(st.integers(0, len(gtin) - 1))
    other = data.draw(st.sampled_from([d for d in "0123456789" if d != gtin[place]]))
    assert gtin_problem(gtin[:place] + other + gtin[place + 1 :]) != ""


def test_a_swap_of_neighbours_five_apart_is_not_found_out() -> None:
    """A known limit of the rule: 6 and 1 weigh the same in either order."""
    assert gtin_problem("16385078") == gtin_problem("61385078") == ""


@pytest.mark.parametrize("text", ["", "0", "952123454321", " 9521234543213", "٩٦٣٨٥٠٧٤", "9" * 18])
def test_what_has_not_the_form_of_a_gtin_is_refused(text: str) -> None:
    assert gtin_problem(text) != ""


def test_the_problem_tells_the_digit_that_is_due() -> None:
    text = changed('"9521234543213"', '"9521234543210"')
    assert only(text) == (
        f"line {line_in(text, 'gtin')}: part PUMP: "
        'gtin "9521234543210" has a wrong check digit; the last digit should be 3'
    )


def test_a_part_keeps_its_gtin_as_written() -> None:
    pump = small_shop().part("PUMP")
    assert pump is not None
    assert pump.gtin == "9521234543213"
