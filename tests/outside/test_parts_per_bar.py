"""Parts per bar against a table of worked cases.

Source: `parts_per_bar.json` beside this file, exact cases computed apart from this project by
floor((bar - remnant) / (part + cut-off + facing)); in two of them division of floats loses a part.
"""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path

import pytest

from lotkin.core.values.bars import BarCut, cut_bar, micrometres

CASES: list[dict[str, str]] = json.loads(
    Path(__file__).with_name("parts_per_bar.json").read_text(encoding="utf-8")
)["cases"]


def test_the_table_is_complete() -> None:
    assert len(CASES) == 11


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['bar_mm']}/{case['part_mm']}")
def test_every_case_of_the_table_is_met_exactly(case: dict[str, str]) -> None:
    cut = cut_bar(
        Decimal(case["bar_mm"]),
        Decimal(case["part_mm"]),
        cutoff_mm=Decimal(case["cutoff_mm"]),
        facing_mm=Decimal(case["facing_mm"]),
        remnant_mm=Decimal(case["min_remnant_mm"]),
    )
    assert cut == BarCut(
        int(case["parts"]),
        micrometres(Decimal(case["used_mm"])),
        micrometres(Decimal(case["left_mm"])),
    )


def test_the_table_holds_cases_in_which_floats_lose_a_part() -> None:
    losing = [case for case in CASES if int(case["float_floor"]) != int(case["parts"])]
    assert len(losing) == 2
