"""The record in full says what an event was given, and nothing that it was not."""

from __future__ import annotations

import pytest

from lotkin.uses.reporting.record_values import said_by_event


@pytest.mark.parametrize(
    ("kind", "data", "said"),
    [
        ("receive", {}, ""),
        ("receive", {"hold": "no papers"}, "held: no papers"),
        (
            "receive",
            {
                "delivered": {"bars": 10, "bar_length_mm": "3000", "mass_kg": "11.8"},
                "grade": "CW614N",
            },
            "10 bars; each 3000 mm long; 11.8 kg weighed; grade CW614N by the certificate",
        ),
        (
            "receive",
            {"confirmed": ["short-dated", "wet"]},
            "confirmed: short-dated; confirmed: wet",
        ),
        ("inspect", {"result": "accepted", "checked": "12"}, "accepted, 12 looked at"),
        ("inspect", {"result": "accepted"}, "accepted"),
        (
            "test",
            {"name": "flow", "readings": ["5"], "unfit": "the rig is out of its period"},
            "flow: no verdict, as the rig is out of its period, 5",
        ),
        ("test", {"name": "flow", "readings": ["5"]}, "flow: no verdict, 5"),
        ("adopt", {"hashes": ["ab", "cd"]}, "taken over from a document; event hash ab, cd"),
        (
            "move",
            {"claimed_at": "2031-01-01T00:00:00Z"},
            "said to have been at 2031-01-01T00:00:00Z",
        ),
        ("move", {"lacks_right": True}, ""),
    ],
)
def test_a_record_says_what_was_given(kind: str, data: dict[str, object], said: str) -> None:
    assert said_by_event(kind, data).result == said  # type: ignore[arg-type]
