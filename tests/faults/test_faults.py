"""The short form of `make soak`: a few faults of every kind, none with a failure."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from faults.__main__ import break_everything

if TYPE_CHECKING:
    from pathlib import Path

    from faults.outcome import Outcome


@pytest.fixture(scope="module")
def outcomes(tmp_path_factory: pytest.TempPathFactory) -> list[Outcome]:
    folder: Path = tmp_path_factory.mktemp("faults")
    return break_everything(folder, 20)


def test_nothing_acknowledged_is_lost_or_doubled_and_nothing_is_wrong_in_silence(
    outcomes: list[Outcome],
) -> None:
    assert {outcome.fault: outcome.failures for outcome in outcomes if outcome.failures} == {}


def test_every_fault_was_tried_and_what_must_be_told_was_told(outcomes: list[Outcome]) -> None:
    by_fault = {outcome.fault: outcome for outcome in outcomes}
    assert len(by_fault) == 15
    for outcome in outcomes:
        assert outcome.times > 0
        assert outcome.noticed + outcome.harmless == outcome.times, outcome
    for fault in (
        "no room on the disk while recording",
        "a store that may only be read",
        "a store that another program holds",
        "each byte of journal rows changed",
    ):
        assert by_fault[fault].noticed == by_fault[fault].times
