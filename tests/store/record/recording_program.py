"""A program that records a stream of events, one a transaction, and prints the id of each.

Run as `python recording_program.py STORE NAME COUNT PAUSE_S`. The stream is the same each time, so
that a program that was killed can be run again from the first event.
"""

from __future__ import annotations

import sys
import time
import uuid
from collections.abc import Iterator
from typing import TYPE_CHECKING

from lotkin.core.events.reading import parse_event
from lotkin.uses.recording.record import record
from lotkin.wiring import open_store

if TYPE_CHECKING:
    from lotkin.core.events import Event

__all__ = ["SHARED", "stream"]

SHARED = "SHARED"
"""A lot that all programs take from; it must be there."""


def stream(name: str, count: int) -> Iterator[Event]:
    """Give the events of a program: lots received, split, moved, pooled and corrected in turn."""
    for i in range(count):
        lot, kind = f"{name}-{i // 6}", i % 6
        received = uuid.uuid5(uuid.NAMESPACE_OID, f"{name} {i - kind}")
        steps: list[dict[str, object]] = [
            {"kind": "receive", "code": lot, "item_kind": "purchased-lot", "part": "SCREW"}
            | {"quantity": 10, "place": "SHELF"},
            {"kind": "split", "item": SHARED, "parts": [{"code": f"{lot}-S", "quantity": 1}]},
            {"kind": "move", "item": lot, "quantity": 4, "place": "SHELF", "to_place": "FLOOR"},
            {"kind": "pool", "code": f"{lot}-P", "place": "FLOOR"}
            | {"inputs": [{"item": lot, "place": "FLOOR"}, {"item": f"{lot}-S"}]},
            {"kind": "amend", "reason": "miscounted"}
            | {"changes": [{"event": str(received), "patch": {"quantity": 11}}]},
            {"kind": "count", "item": lot, "place": "SHELF", "counted": 6},
        ]
        event_id = uuid.uuid5(uuid.NAMESPACE_OID, f"{name} {i}")
        envelope = {"id": str(event_id), "at": "2026-03-02T08:00:00Z", "by": "ANN"}
        yield parse_event({**envelope, **steps[kind]}, f"event {i}")


def main(url: str, name: str, count: int, pause_s: float) -> None:
    store = open_store(url)
    for event in stream(name, count):
        (recorded,) = record(store, [event], lambda: 0)
        sys.stdout.write(f"{recorded.id}\n")
        sys.stdout.flush()
        time.sleep(pause_s)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]), float(sys.argv[4]))
