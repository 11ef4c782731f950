"""What cards and travellers say is what a station's dialogue reads."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.plan.values import is_code
from lotkin.core.scan.commands import (
    ScanCommand,
    read_bench_spot,
    read_command,
    read_traveller_step,
    write_bench_spot,
    write_traveller_step,
)
from lotkin_labels.paper.qr import is_alphanumeric

CODES = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9._:+/-]{0,39}", fullmatch=True)


@pytest.mark.parametrize("command", ScanCommand)
def test_a_command_is_alphanumeric_and_no_code_of_a_plan(command: ScanCommand) -> None:
    assert is_alphanumeric(command.value)
    assert not is_code(command.value)
    assert read_command(f" {command.value.lower()}\n") is command


@pytest.mark.parametrize("text", ["", "FINISH", "$", "$FINISHED", "$FINISH $UNDO", "T-0042/10"])
def test_nothing_else_is_a_command(text: str) -> None:
    assert read_command(text) is None


@given(CODES, CODES)
def test_a_bench_spot_is_read_as_it_was_written(bench: str, position: str) -> None:
    assert read_bench_spot(write_bench_spot(bench, position)) == (bench, position)


@pytest.mark.parametrize("text", ["", "$AT", "$AT BENCH-A", "BENCH-A A1", "$AT A B C", "AT A B"])
def test_half_a_bench_spot_is_none(text: str) -> None:
    assert read_bench_spot(text) is None


@given(CODES, st.from_regex(r"[A-Z0-9]{1,6}", fullmatch=True))
def test_a_traveller_step_is_read_as_it_was_written(traveller: str, step: str) -> None:
    assert read_traveller_step(write_traveller_step(traveller, step)) == (traveller, step)


@pytest.mark.parametrize("text", ["", "T-0042", "/10", "T-0042/"])
def test_a_text_without_both_sides_is_no_traveller_step(text: str) -> None:
    assert read_traveller_step(text) is None
