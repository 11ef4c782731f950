"""A transaction for a scan: what is refused in it is undone alone, what is remembered stays."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from lotkin.core.errors import UnknownCode
from lotkin.core.events.reading import parse_event
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.recording.record import record, record_one
from tests.small_works import Works

if TYPE_CHECKING:
    from lotkin.store.beside.scanning import Scanning


def lot(code: str) -> dict[str, object]:
    return {
        "kind": "receive",
        "id": f"00000000-0000-4000-8000-{int(code[1:]):012}",
        "at": "2026-03-02T08:00:00Z",
        "by": "ANN",
        "code": code,
        "item_kind": "purchased-lot",
        "part": "SCREW",
        "quantity": 10,
        "place": "SHELF",
    }


def refused(scanning: Scanning) -> None:
    """Record a lot, and have what follows it refused."""
    with scanning.recording() as recording:
        record_one(recording, parse_event(lot("L1"), "test"), 0)
        recording.flush()
        raise UnknownCode("L2")


def test_what_is_refused_is_undone_and_what_is_remembered_is_kept() -> None:
    works = Works()
    with works.store.reading() as view:
        before = view.journal_head()
    with works.store.scanning() as scanning:
        with pytest.raises(UnknownCode):
            refused(scanning)
        assert scanning.item("L1") is None
        scanning.stations.keep_session("LATHE", 1, "{}")
    with works.store.scanning(only_look=True) as view:
        assert view.journal_head() == before
        assert view.item("L1") is None
        assert view.stations.session("LATHE") == (1, "{}")
    assert not rebuild(works.store, check_only=True).difference


def test_what_is_recorded_in_it_is_seen_in_it() -> None:
    works = Works()
    with works.store.scanning() as scanning:
        assert scanning.item("L1") is None
        record(scanning, [parse_event(lot("L1"), "test")], lambda: 0)
        assert scanning.item("L1") is not None
        assert scanning.stock("L1")
    assert not rebuild(works.store, check_only=True).difference


def all_undone(works: Works) -> None:
    with works.store.scanning() as scanning:
        record(scanning, [parse_event(lot("L1"), "test")], lambda: 0)
        scanning.stations.keep_session("LATHE", 1, "{}")
        raise UnknownCode("L2")


def test_an_error_ends_all_of_it() -> None:
    works = Works()
    with pytest.raises(UnknownCode):
        all_undone(works)
    with works.store.scanning(only_look=True) as view:
        assert view.item("L1") is None
        assert view.stations.session("LATHE") == (0, "")
