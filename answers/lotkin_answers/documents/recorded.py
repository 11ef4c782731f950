"""What became of recorded events, as documents."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin.uses.recording.record import Recorded
    from lotkin_answers.json_document import Data

__all__ = ["recorded_data"]


def recorded_data(done: Recorded) -> Data:
    """Describe what became of one event."""
    return {
        "event": done.seq,
        "id": done.id,
        "kind": done.kind,
        "repeated": done.repeated,
        "made": list(done.made),
        "breaches": [
            {"rule": breach.rule, "record": breach.record, "message": breach.message}
            for breach in done.breaches
        ],
    }
