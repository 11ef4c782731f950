"""People read rounded amounts with their unit; nothing there is rounds to nothing."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.values.amounts import show_amount


@pytest.mark.parametrize(
    ("quantity", "unit", "said"),
    [
        (600.0, "pcs", "600 pcs"),
        (-0.0, "pcs", "0 pcs"),
        (1e15, "pcs", "1000000000000000 pcs"),
        (2.366667, "pcs", "about 2.4 pcs"),
        (22.999999, "pcs", "about 23 pcs"),
        (0.000005, "pcs", "under 0.1 pcs"),
        (0.532801, "kg", "0.533 kg"),
        (2.5, "kg", "2.5 kg"),
        (0.000001, "kg", "less than 1 g"),
        (0.000499, "m", "less than 1 mm"),
        (0.0, "kg", "0 kg"),
        (0.0001, "l", "less than 0.001 l"),
    ],
)
def test_an_amount_is_rounded_to_what_can_be_counted_or_weighed(
    quantity: float, unit: str, said: str
) -> None:
    assert show_amount(quantity, unit) == said


@given(st.integers(1, 10**12), st.sampled_from(["pcs", "kg", "m"]))
def test_what_there_is_never_rounds_to_nothing(micro: int, unit: str) -> None:
    said = show_amount(micro / 10**6, unit)
    assert not re.fullmatch(r"(about )?0(\.0*)? .*", said)
    assert said.endswith((" pcs", " kg", " m", " g", " mm"))
    assert len(said.split(".")[-1].split(" ")[0]) <= 3 or "." not in said


@given(st.integers(0, 10**9))
def test_whole_pieces_are_written_whole_and_others_say_about(pieces: int) -> None:
    assert show_amount(float(pieces), "pcs") == f"{pieces} pcs"
    assert show_amount(pieces + 0.25, "pcs").startswith("about ")
