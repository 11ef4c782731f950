"""What a window takes in, on histories of which only one answer is right.

Source: `window_outside.jsonl` and `window_no_start.jsonl` beside this file: histories with one
right answer, written from the documents, invented data.
"""

from __future__ import annotations

import json
from pathlib import Path

from lotkin.core.events.reading import parse_event
from lotkin.core.values.instants import parse_instant, to_us
from lotkin.uses.asking.where import Question
from lotkin.uses.asking.window import Window
from lotkin.uses.recording.record import record
from tests.small_works import Works

HERE = Path(__file__).parent


def told(name: str) -> Works:
    """Record a history."""
    works = Works()
    for line in (HERE / name).read_text(encoding="utf-8").splitlines():
        data = json.loads(line)
        event = parse_event(data, data["kind"])
        record(works.store, [event], lambda at=event.at_us: at)
    return works


def during(start: str, end: str) -> Question:
    """Ask about a time."""
    return Question(window=Window(to_us(parse_instant(start)), to_us(parse_instant(end))))


def test_a_batch_that_was_away_for_a_week_was_treated_on_any_day_of_it() -> None:
    works = told("window_outside.jsonl")
    found = works.used("A1", during("2026-03-05T00:00:00Z", "2026-03-05T23:00:00Z"))
    assert found.keys() == {"T1"}


def test_a_load_without_a_recorded_start_may_have_begun_before() -> None:
    works = told("window_no_start.jsonl")
    found = works.used("BATH:1", during("2026-03-02T11:00:00Z", "2026-03-02T11:55:00Z"))
    assert {code for code, row in found.items() if row.family == "material"} == {"D1"}
