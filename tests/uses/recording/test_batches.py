"""A batch looks up at once what its events name; nothing else about it may differ."""

from __future__ import annotations

import uuid

import pytest

from lotkin.core.errors import CodeTaken, EventIdReused
from lotkin.core.events.reading import parse_event
from lotkin.uses.recording.record import record
from tests.small_works import Works, dump


def receipts(count: int, **more: object) -> list[object]:
    return [
        {
            "kind": "receive",
            "id": str(uuid.UUID(int=number)),
            "at": "2026-01-05T08:00:00Z",
            "by": "ANN",
            "code": f"LOT-{number}",
            "item_kind": "purchased-lot",
            "part": "PIN",
            "quantity": number,
            "place": "STORE",
            **more,
        }
        for number in range(1, count + 1)
    ]


def used(count: int) -> list[object]:
    """Give events that use what others of the same batch have just made, and found before."""
    return [
        {
            "kind": "scrap",
            "id": str(uuid.UUID(int=1000 + number)),
            "at": "2026-01-06T08:00:00Z",
            "by": "ANN",
            "item": f"LOT-{number}",
            "quantity": 1,
            "place": "STORE",
            "reason": "dropped",
        }
        for number in range(1, count + 1)
    ]


def test_a_batch_does_what_its_events_do_one_by_one() -> None:
    events = [parse_event(data, "test") for data in [*receipts(60, serial=None), *used(60)]]
    together, alone = Works(), Works()

    record(together.store, events, lambda: 0)
    for event in events:
        record(alone.store, [event], lambda: 0)

    assert dump(together.store) == dump(alone.store)


def test_a_batch_sees_codes_labels_and_ids_that_are_recorded_already() -> None:
    works = Works()
    events = [parse_event(data, "test") for data in receipts(60)]
    record(works.store, events[:1], lambda: 0)
    done = record(works.store, events, lambda: 0)

    assert [each.repeated for each in done] == [True] + [False] * 59
    other = parse_event({**receipts(1, quantity=7)[0]}, "test")  # type: ignore[dict-item]
    with pytest.raises(EventIdReused):
        record(works.store, [*events[1:], other], lambda: 0)
    again = [parse_event(data, "test") for data in receipts(60)]
    moved = [event.but(id=uuid.UUID(int=5000 + n)) for n, event in enumerate(again)]
    with pytest.raises(CodeTaken):
        record(works.store, moved, lambda: 0)


def test_a_batch_sees_a_serial_that_leads_to_another_item() -> None:
    """A new lot cannot have the code of what a serial leads to."""
    works = Works()
    (first,) = receipts(1, code="GAUGE-1", serial="LOT-45")
    record(works.store, [parse_event(first, "test")], lambda: 0)
    batch = [parse_event(data, "test") for data in receipts(60)]
    batch = [event.but(id=uuid.UUID(int=7000 + n)) for n, event in enumerate(batch)]

    with pytest.raises(CodeTaken):
        record(works.store, batch, lambda: 0)
