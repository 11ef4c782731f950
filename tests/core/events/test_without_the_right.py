"""What is reported without the right of quality is recorded, and frees nothing, at every door."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from lotkin.core.access.rights import Who, rights_of
from lotkin.core.cases.membership import find_case
from lotkin.core.events.reading import parse_event
from lotkin.store.beside.documents import Documents
from lotkin.uses.asking.audit import audit
from lotkin.uses.cases.case_work import show_case
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.evidence.verify import verify
from lotkin.uses.recording.record import record
from tests.cli.command import lotkin
from tests.core.events.test_acting import PEOPLE, hold
from tests.small_works import PLAN, Data, Works

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

STATION = Who("OLE", "Ole", rights_of(["operator"]), station="FLOOR")


@pytest.fixture
def works(tmp_path: Path) -> Works:
    """Give a works in which a lot was rejected, and an open case holds another."""
    works = Works(str(tmp_path / "works.db"), plan=PLAN + PEOPLE)
    works.receive("S1", 100)
    works.inspect("S1", "LOOK", "rejected")
    works.receive("S2", 100)
    works.do("open-case", case="CASE-1", subjects=["S2"], reason="too thin")
    return works


def freeing(works: Works) -> dict[str, Data]:
    """Give all that would free something: kind -> fields."""
    rejected, opened = works.log[1], works.log[3]
    member = [{"item": "S2"}]
    return {
        "decide": {
            "case": "CASE-1", "members": member, "decision": "use-as-is", "reason": "looks good",
        },
        "close-case": {"case": "CASE-1", "reason": "done"},
        "void": {"event": opened.id, "reason": "no need"},
        "amend": {
            "reason": "was misread",
            "changes": [{"event": rejected.id, "patch": {"result": "accepted"}}],
        },
    }  # fmt: skip


def by_record(works: Works, data: Data) -> None:
    """The plain way in."""
    works.send_in(data)


def by_sign_in(works: Works, data: Data) -> None:
    """A station or a page, at which somebody has signed in."""
    record(works.store, [parse_event(data, "test")], works.clock, sender=STATION)


def by_command(works: Works, data: Data) -> None:
    """A file of events at the command line."""
    path = str(works.store.engine.url.database)
    ended = lotkin("record", "-", "--db", path, given=json.dumps(data) + "\n")
    assert ended.status in (0, 1), ended.err


DOORS = [by_record, by_sign_in, by_command]


@pytest.mark.parametrize("door", DOORS)
@pytest.mark.parametrize("kind", ["decide", "close-case", "void", "amend"])
def test_what_is_reported_without_the_right_frees_nothing(
    works: Works, kind: str, door: Callable[[Works, Data], None]
) -> None:
    data = works.data(kind, **freeing(works)[kind], by="OLE", reported=True)
    before = works.head()
    door(works, data)

    assert works.head() == before + 1
    assert hold(works, "S1") == "rejected: burr"
    shown = show_case(works.store, "CASE-1")
    assert (shown.case.closed_by, list(shown.undecided), shown.decisions) == (0, ["S2"], {})
    broken = [
        gap.message
        for gap in audit(works.store, Documents(None), works.clock()).gaps
        if gap.kind == "rule-broken"
    ]
    assert any(f"OLE may not record {kind}" in message for message in broken)
    assert verify(works.store).is_sound
    assert rebuild(works.store, check_only=True).difference == ""


@pytest.mark.parametrize("kind", ["decide", "close-case", "void", "amend"])
def test_quality_does_what_was_reported_without_the_right(works: Works, kind: str) -> None:
    said = freeing(works)[kind]
    works.do(kind, **said, by="OLE", reported=True)
    done = works.do(kind, **said, reported=True)

    assert "no-right" not in [breach.rule for breach in done.breaches]
    if kind == "amend":
        assert hold(works, "S1") is None
        return
    with works.store.reading() as view:
        case = find_case(view, "CASE-1")
    if kind == "void":
        assert case is None
    elif kind == "close-case":
        assert case is not None
        assert case.closed_by == done.seq
    else:
        assert list(show_case(works.store, "CASE-1").undecided) == []


def test_a_correction_by_quality_gives_a_decision_no_right_afterwards(works: Works) -> None:
    done = works.do("decide", **freeing(works)["decide"], by="OLE", reported=True)
    works.amend(done, reason="measured by Ole")

    assert list(show_case(works.store, "CASE-1").undecided) == ["S2"]


def adopted(works: Works, item: str, reason: str = "") -> None:
    """Take over a document of others that holds an item, or frees it."""
    works.do("adopt", hashes=["a" * 64], holds=[{"item": item, "reason": reason}])


def test_a_document_of_others_does_not_free_what_was_held_here(works: Works) -> None:
    adopted(works, "S1", "theirs")
    adopted(works, "S1")
    assert hold(works, "S1") == "theirs"
    assert [breach.rule for breach in works.log[-1].breaches or ()] == ["no-right"]


def test_a_document_of_others_frees_what_it_held_itself(works: Works) -> None:
    adopted(works, "S2", "theirs")
    adopted(works, "S2")
    assert hold(works, "S2") is None
    assert works.log[-1].breaches == ()
