"""Check digits, check pairs and dates of GS1, against the vectors of GS1's own linters.

Source: `gs1_check_digits.json` beside this file: numbers on which two independent libraries agree,
and the unit vectors of gs1/gs1-syntax-dictionary @ff2eb4b (GS1 AISBL, Apache-2.0).
"""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path
from typing import TypedDict

import pytest

from lotkin.core.plan.gtin import gtin_problem
from lotkin.core.scan import check_digit
from lotkin.core.scan.days import date_problem
from lotkin.core.scan.gs1.check_digits import check_digit_problem, check_pair, check_pair_problem


class Number(TypedDict):
    kind: str
    body: str
    check_digit: int
    full: str


class Verdict(TypedDict):
    data: str
    ok: bool


TABLE = json.loads(Path(__file__).with_name("gs1_check_digits.json").read_text(encoding="utf-8"))
NUMBERS: list[Number] = TABLE["vectors"]
DIGITS: list[Verdict] = TABLE["official_linter_csum"]
PAIRS: list[Verdict] = TABLE["official_linter_csumalpha_check_pair"]
DATES: list[Verdict] = TABLE["official_linter_yymmd0_dates"]

by_number = pytest.mark.parametrize("number", NUMBERS, ids=lambda number: number["full"])


@by_number
def test_the_check_digit_is_the_published_one(number: Number) -> None:
    assert check_digit(number["body"]) == number["check_digit"]
    assert check_digit_problem(number["full"]) == ""


@by_number
def test_every_wrong_digit_is_caught(number: Number) -> None:
    full = number["full"]
    for place in range(len(full)):
        for digit in set("0123456789") - {full[place]}:
            assert check_digit_problem(full[:place] + digit + full[place + 1 :])


@by_number
def test_neighbours_that_changed_places_are_caught_unless_they_differ_by_five(
    number: Number,
) -> None:
    """A known limit of the method: a check digit alone proves little."""
    full = number["full"]
    for place, (one, other) in enumerate(pairwise(full)):
        swapped = full[:place] + other + one + full[place + 2 :]
        is_missed = one == other or abs(int(one) - int(other)) == 5
        assert (check_digit_problem(swapped) == "") is is_missed


@pytest.mark.parametrize("number", [n for n in NUMBERS if n["kind"].startswith("GTIN")])
def test_the_plan_takes_the_same_item_numbers(number: Number) -> None:
    assert gtin_problem(number["full"]) == ""


@pytest.mark.parametrize("verdict", DIGITS, ids=lambda verdict: repr(verdict["data"]))
def test_check_digits_are_judged_as_by_gs1(verdict: Verdict) -> None:
    assert (check_digit_problem(verdict["data"]) == "") is verdict["ok"]


@pytest.mark.parametrize("verdict", PAIRS, ids=lambda verdict: repr(verdict["data"]))
def test_check_pairs_are_judged_as_by_gs1(verdict: Verdict) -> None:
    assert (check_pair_problem(verdict["data"]) == "") is verdict["ok"]
    if verdict["ok"]:
        assert check_pair(verdict["data"][:-2]) == verdict["data"][-2:]


@pytest.mark.parametrize("verdict", DATES, ids=lambda verdict: repr(verdict["data"]))
def test_dates_are_judged_as_by_gs1(verdict: Verdict) -> None:
    assert (date_problem(verdict["data"], day_zero=True) == "") is verdict["ok"]
