"""Cutting of bars: laws, and lengths that are refused."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.values.bars import cut_bar, micrometres, parts_per_bar

lengths_um = st.integers(0, 5_000_000)


@given(
    bar=lengths_um,
    part=st.integers(1, 500_000),
    cutoff=st.integers(0, 10_000),
    facing=st.integers(0, 5_000),
    remnant=lengths_um,
)
def test_one_part_more_would_cut_into_the_remnant(
    bar: int, part: int, cutoff: int, facing: int, remnant: int
) -> None:
    parts = parts_per_bar(bar, part, cutoff_um=cutoff, facing_um=facing, remnant_um=remnant)
    pitch = part + cutoff + facing
    assert parts == 0 or parts * pitch + remnant <= bar
    assert (parts + 1) * pitch + remnant > bar


@given(bar=lengths_um, part=st.integers(1, 500_000), remnant=lengths_um)
def test_no_length_of_the_bar_is_lost(bar: int, part: int, remnant: int) -> None:
    cut = cut_bar(
        Decimal(bar) / 1000,
        Decimal(part) / 1000,
        cutoff_mm=Decimal("2.5"),
        facing_mm=Decimal("0.2"),
        remnant_mm=Decimal(remnant) / 1000,
    )
    assert cut.used_um + cut.left_um == bar
    assert cut.used_um == cut.parts * (part + 2_700)


def test_a_remnant_longer_than_the_bar_leaves_no_parts() -> None:
    assert parts_per_bar(100, 10, cutoff_um=0, facing_um=0, remnant_um=200) == 0


@pytest.mark.parametrize(
    ("text", "length_um"), [("0", 0), ("3.175", 3175), ("3.1750", 3175), ("3E+3", 3_000_000)]
)
def test_millimetres_become_whole_micrometres(text: str, length_um: int) -> None:
    assert micrometres(Decimal(text)) == length_um


def test_a_length_finer_than_a_micrometre_is_refused_and_not_rounded() -> None:
    with pytest.raises(ValueError, match=r"3\.1755 mm has more than three decimals"):
        micrometres(Decimal("3.1755"))


@pytest.mark.parametrize("text", ["-1", "NaN", "sNaN", "Infinity", "1E+999999"])
def test_what_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="must be a number from 0"):
        micrometres(Decimal(text))


def test_a_part_without_length_is_refused() -> None:
    with pytest.raises(ValueError, match="must be above zero"):
        parts_per_bar(1000, 0, cutoff_um=0, facing_um=0, remnant_um=0)


@pytest.mark.parametrize("name", ["cutoff_um", "facing_um", "remnant_um"])
def test_negative_allowances_are_refused(name: str) -> None:
    allowances = {"cutoff_um": 0, "facing_um": 0, "remnant_um": 0, name: -1}
    with pytest.raises(ValueError, match="must not be negative"):
        parts_per_bar(1000, 10, **allowances)
