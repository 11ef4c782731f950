"""What is found when an event is recorded is never taken from outside: one rule, every kind."""

from __future__ import annotations

import json
import uuid
from typing import TYPE_CHECKING, get_args

import pytest
from pydantic import BaseModel

from lotkin.core.events import EVENTS, KINDS_OF_EVENTS
from lotkin.core.events.parts.filled_in import filled_in_fields
from lotkin.core.events.reading import parse_event
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.recording.record import record
from lotkin_answers.event_schema import schema_of
from tests.core.events.test_refusals import FOUND, GOOD, changed, furnished, refusal

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tests.small_works import Data

OTHERS: dict[str, Data] = {
    "plan": {"plan": {}},
    "import": {},
    "adopt": {"hashes": ["0" * 64], "holds": [{"item": "S2"}]},
    "issue": {"traveller": "NEW", "part": "TIP", "quantity": 1},
    "drill": {"subject": "S2", "seconds": 1, "behind": 0, "ahead": 0, "units": 0}
    | {"complete_units": 0},
    "seal": {"events": 1, "head": "0" * 64, "key": "0" * 64, "signature": "0" * 128},
}
"""Kinds that the furnished works has no good event of; filled-in fields are seen first."""

SENT: dict[str, Data] = {**OTHERS, **GOOD}

TAKEN = [{"item": "S2", "quantity": "1", "place": "SHELF"}]
VALUES: dict[str, object] = {
    "claimed_at": "2026-03-02T06:00:00Z",
    "lacks_right": True,
    "needs": [{"part": "TIP", "per": "1"}],
    "stays": "cracks",
    "unfit": "cracks",
    "unmet": "cracks",
    "inherits_hold": "cracks",
    "keeps_members": [["CASE-1", "S2"]],
    "inside": TAKEN,
    "lost": TAKEN,
    "found": TAKEN,
    "hold": "cracks",
    "relabels": True,
    "passed": True,
    "book": "70",
    "book_below": "1",
    "weights": ["1", "1"],
    "made_in": 1,
    "from_each": ["1"],
    "instead": ["S2"],
    "due_by_plan": "shelf-life",
    "seq": 1,
    "reading": {"kind": "move"},
}


def filled_in_paths(cls: type[BaseModel]) -> Iterator[tuple[str, ...]]:
    """Name all filled-in fields of a kind of event, those in its pieces included."""
    for name, field in cls.model_fields.items():
        if name in filled_in_fields(cls):
            yield (name,)
        for piece in models_in(field.annotation):
            yield from ((name, *inner) for inner in filled_in_paths(piece))


def models_in(annotation: object) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in get_args(annotation):
        yield from models_in(inner)


PATHS = [(kind, path) for kind, cls in EVENTS.items() for path in filled_in_paths(cls)]


def with_field(kind: str, path: tuple[str, ...]) -> Data:
    """Give a good event of a kind in which a filled-in field is said."""
    data = SENT[kind]
    if path[0] == "found" and len(path) > 1:
        data = {"place": "SHELF", "found": FOUND}
    if path[0] == "recovered":
        data = {**data, "recovered": [{"item": "S1", "place": "SHELF"}]}
    first = path[0]
    inner = f"{first}.{'0.' if isinstance(data.get(first), list) else ''}{path[-1]}"
    return changed(data, inner if len(path) > 1 else first, VALUES[path[-1]])


@pytest.mark.parametrize(("kind", "path"), PATHS, ids=[f"{k}:{'.'.join(p)}" for k, p in PATHS])
def test_a_filled_in_field_is_refused_from_outside_and_named(
    kind: str, path: tuple[str, ...]
) -> None:
    works = furnished()
    data = works.data(kind, **with_field(kind, path))

    for reported in (False, True):
        error = refusal(works, json.dumps({**data, "reported": reported}))
        assert error.kind == "bad-event"
        assert f"{'.'.join(path)} is filled in" in error.message


def test_every_field_that_says_so_is_marked_and_no_other() -> None:
    seen = []
    waiting: list[type[BaseModel]] = list(KINDS_OF_EVENTS)
    while waiting:
        cls = waiting.pop()
        if cls in seen:
            continue
        seen.append(cls)
        for name, field in cls.model_fields.items():
            says_so = (field.description or "").startswith("Filled in")
            assert says_so == (name in filled_in_fields(cls)), (cls, name)
            waiting += models_in(field.annotation)


def test_the_published_schema_lists_no_filled_in_field() -> None:
    whole = schema_of(None)["$defs"]
    for kind, cls in EVENTS.items():
        alone = schema_of(kind)
        for schema in (alone, whole[cls.__name__]):
            assert not filled_in_fields(cls) & schema["properties"].keys()
            assert schema["additionalProperties"] is False
    for path in ("weights", "instead", "reading"):
        assert f'"{path}"' not in json.dumps(whole)


def test_a_held_lot_does_not_leave_by_saying_what_its_carton_holds() -> None:
    works = furnished()
    works.pack("C9", {"S2": 5})
    works.do("open-case", case="CASE-9", subjects=["S2"], reason="cracks")
    ship: Data = {"shipment": "NEW", "customer": "CLINIC", "contents": [{"item": "C9"}]}

    assert refusal(works, json.dumps(works.data("ship", **ship))).kind == "rule-broken"
    sent = json.dumps(works.data("ship", **ship, inside=TAKEN))
    assert refusal(works, sent).kind == "bad-event"


def test_a_count_takes_the_book_from_the_record_alone() -> None:
    works = furnished()
    good: Data = {"place": "SHELF", "item": "S2", "counted": "70"}
    for book in ("70", "0", 0):
        sent = works.data("count", **good, book=book)
        assert refusal(works, json.dumps(sent)).kind == "bad-event"

    counted = works.do("count", **good)
    with works.store.reading() as view:
        assert view.entry(counted.seq).data["book"] == "80"


@pytest.mark.parametrize("kind", sorted(GOOD))
def test_a_repeat_is_answered_as_before_also_with_what_was_filled_in(kind: str) -> None:
    works = furnished()
    sent = works.data(kind, **GOOD[kind])
    done = works.send_in(sent)
    with works.store.reading() as view:
        completed = view.entry(done.seq).data

    for data in (sent, completed):
        (again,) = record(works.store, [parse_event(data, "test")], works.clock)
        assert (again.seq, again.repeated, again.made) == (done.seq, True, done.made)
    assert works.head() == done.seq


def test_other_filled_in_content_under_a_known_id_is_no_repeat() -> None:
    works = furnished()
    done = works.do("count", **GOOD["count"])
    with works.store.reading() as view:
        completed = view.entry(done.seq).data

    assert refusal(works, json.dumps({**completed, "book": "1"})).kind == "event-id-reused"


@pytest.mark.parametrize("value", ["1", None])
def test_a_correction_says_no_filled_in_field_nor_takes_one_out(value: str | None) -> None:
    works = furnished()
    done = works.do("count", **GOOD["count"])
    change = {"event": done.id, "patch": {"book": value}}
    error = refusal(works, json.dumps(works.data("amend", reason="x", changes=[change])))

    assert error.kind == "bad-amendment"
    assert "book is filled in" in error.message


def test_a_correction_says_nothing_filled_in_within_a_list() -> None:
    works = furnished()
    done = works.swap("U1", [{"item": "T1"}])
    patch = {"remove": [{"item": "T1", "position": "P1", "instead": ["T2"]}]}
    change = {"event": done.id, "patch": patch}
    error = refusal(works, json.dumps(works.data("amend", reason="x", changes=[change])))

    assert error.kind == "bad-amendment"
    assert "remove.instead" in error.message


def test_a_correction_of_what_was_sent_keeps_what_was_filled_in() -> None:
    works = furnished()
    done = works.do("count", **GOOD["count"])
    works.amend(done, counted="75")

    assert works.lines("S2")["lost"] == 5
    assert rebuild(works.store, check_only=True).difference == ""


def test_an_id_chosen_anew_does_not_carry_a_completed_event_in() -> None:
    works = furnished()
    works.pack("C9", {"S2": 5})
    done = works.do("move", item="C9", to_place="FLOOR")
    with works.store.reading() as view:
        completed = view.entry(done.seq).data

    assert refusal(works, json.dumps({**completed, "id": str(uuid.uuid4())})).kind == "bad-event"
