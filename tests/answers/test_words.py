"""Words for people: shares, certainty, moments and codes."""

from __future__ import annotations

import re
from datetime import timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.answers.rows import Row
from lotkin_answers.words import (
    certainty,
    code_ranges,
    moment,
    percent,
    percent_range,
    shortened,
)

SHARES = st.floats(0, 1)
CODES = st.lists(st.from_regex(r"[A-C]-?[0-9]{0,3}", fullmatch=True).filter(bool), max_size=30)


def row(**said: object) -> Row:
    fields: dict[str, object] = {
        "code": "A", "kind": "unit", "family": "material", "part": "", "quantity": 1,
        "unit": "pcs", "serial": "A", "certain": False, "chance": None, "chance_low": 0.0,
        "chance_high": 1.0, "content": None, "removed": False, "held": False, "at": (),
    }  # fmt: skip
    return Row(**{**fields, **said})  # type: ignore[arg-type]  # fields of several types


@given(SHARES)
def test_a_share_is_called_none_or_all_only_if_it_is(share: float) -> None:
    said = percent(share)

    assert (said == "0 %") == (share == 0)
    assert (said == "100 %") == (share == 1)


@given(SHARES, SHARES)
def test_a_larger_share_is_never_said_to_be_smaller(one: float, other: float) -> None:
    low, high = sorted([one, other])

    def said(share: float) -> float:
        return float(re.sub(r"[^0-9.]", "", percent(share)))

    assert said(low) <= said(high)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"certain": True, "chance": 1.0, "chance_low": 1.0}, "certain"),
        ({"chance": 0.25, "chance_low": 0.25, "chance_high": 0.25}, "possible, 25 %"),
        ({"chance": 0.25, "chance_low": 0.12, "chance_high": 0.4}, "possible, 25 % (12 to 40 %)"),
        ({"chance_low": 0.12, "chance_high": 0.4}, "possible, 12 to 40 %"),
        ({"removed": True, "chance": 0.0}, "no longer"),
    ],
)
def test_certainty_is_said_in_words(said: dict[str, object], words: str) -> None:
    assert certainty(row(**said)) == words


def test_a_range_of_one_share_is_that_share() -> None:
    assert percent_range(0.5, 0.5) == "50 %"


def test_a_moment_is_shown_in_the_zone_of_the_works() -> None:
    zone = timezone(timedelta(hours=2))

    # Source: 2^31 seconds after the epoch is 2038-01-19T03:14:08Z (POSIX).
    assert moment(2**31 * 1_000_000, zone) == "2038-01-19 05:14:08+02:00"
    assert moment(2**31 * 1_000_000, None) == "2038-01-19 03:14:08Z"
    assert moment(None, zone) == ""


@given(CODES)
def test_ranges_stand_for_exactly_the_codes_they_were_made_of(codes: list[str]) -> None:
    counted: list[str] = []
    for text in code_ranges(codes):
        first, _, last = text.partition(" to ")
        counted.append(first)
        while last and counted[-1] != last:
            stem, digits = re.fullmatch(r"(.*?)(\d+)", counted[-1]).groups()  # type: ignore[union-attr]  # codes in ranges end with digits
            counted.append(f"{stem}{int(digits) + 1:0{len(digits)}d}")

    assert sorted(counted) == sorted(set(codes))


def test_a_range_needs_three() -> None:
    assert code_ranges(["U-1", "U-2"]) == ["U-1", "U-2"]
    assert code_ranges(["U-3", "U-1", "U-2"]) == ["U-1 to U-3"]
    assert code_ranges(["U-08", "U-09", "U-10"]) == ["U-08 to U-10"]
    # nobody who counts from 8 comes to 009
    assert code_ranges(["U-7", "U-8", "U-009", "U-010"]) == ["U-7", "U-8", "U-009", "U-010"]


def test_many_codes_are_shortened_unless_all_are_wanted() -> None:
    codes = [f"U{number}" for number in range(0, 20, 2)]

    assert shortened(codes, everything=False).endswith("U10 and 4 more")
    assert shortened(codes, everything=True).count(",") == 9
    # codes are counted, not ranges
    assert shortened(["A-1", "B-1", "B-2", "B-3"], everything=False, most=1) == "A-1 and 3 more"
