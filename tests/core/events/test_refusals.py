"""A refused event leaves the store as it was, for each kind of event and each of its refusals."""

from __future__ import annotations

import json
import uuid
from functools import cache
from typing import TYPE_CHECKING

import pytest

from lotkin.core.errors import LotkinError
from lotkin.core.events.reading import parse_line
from lotkin.uses.recording.record import record
from tests.small_works import PLAN, Works, dump, moment

if TYPE_CHECKING:
    from tests.small_works import Data


@cache
def furnished_once() -> Works:
    """Build a works with something of everything."""
    works = Works(plan=PLAN)
    for code in ("S1", "S2", "HELD"):
        works.receive(code, 100)
    for code in ("T1", "T2"):
        works.receive(code, 50, item_kind="machined-lot", part="TIP")
    works.powder("V1", 10)
    works.bar("BAR-1", 12, heat="H1")
    works.bar("BAR-2", 12, heat="H1", place="FLOOR")
    works.resource("GAUGE", "gauge", due=moment(500))
    works.resource("OLD-GAUGE", "gauge", due=moment(5))
    works.resource("TOOL")
    works.inspect("HELD", "LOOK", "rejected")
    works.pool("BIN", {"S1": 10, "S2": 10})
    works.mount({"P1": "T1", "P2": {"item": "S1", "quantity": 20, "origin": "SHELF"}})
    works.build("U1")
    works.build("U2")
    works.test("U2", 0)
    works.send("OUT", {"T2": 20})
    works.pack("C1", {"S2": 5})
    works.pack("C2", {"S2": 5})
    works.ship("SHIP-1", "C2")
    works.do("open-case", case="CASE-1", subjects=["BAR-2"], reason="cracks")
    works.do("open-case", case="CASE-2", subjects=["OLD-GAUGE"], reason="fell down")
    return works


def furnished() -> Works:
    """Give such a works for one test."""
    return furnished_once().twin()


NEW_TIPS: Data = {"code": "NEW", "item_kind": "treated-lot", "part": "TIP", "place": "SHELF"}
A_FEW: Data = {"quantity": 5}

GOOD: dict[str, Data] = {
    "receive": {"code": "NEW", "item_kind": "purchased-lot", "part": "SCREW", "place": "SHELF"},
    "make": {
        "inputs": [{"item": "BAR-1", "quantity": 1}],
        "outputs": [{"code": "NEW", "part": "TIP", "quantity": 9, "place": "FLOOR"}],
    },
    "blend": {"code": "NEW", "inputs": [{"item": "V1", "quantity": 1}]},
    "pool": {"code": "NEW", "inputs": [{"item": "BIN"}, {"item": "S2", "quantity": 1}]},
    "split": {"item": "S2", "parts": [{"code": "NEW"} | A_FEW]},
    "send": {"batch": "NEW", "supplier": "ANODISER", "inputs": [{"item": "T2"} | A_FEW]},
    "take-back": {
        "batch": "OUT",
        "returns": [{"output": NEW_TIPS | {"quantity": 20}, "of": [{"item": "T2"}]}],
    },
    "mount": {"bench": "B1", "positions": [{"position": "P2", "item": "S2"}]},
    "build": {"serial": "NEW", "part": "PUMP", "bench": "B1"},
    "swap": {"unit": "U1", "remove": [{"item": "T1"}]},
    "dismantle": {"unit": "U1", "recovered": [{"item": "S1", "place": "SHELF"}]},
    "inspect": {"item": "S2", "inspection": "NEW", "result": "accepted"},
    "test": {"unit": "U1", "name": "Leak", "readings": [0]},
    "move": {"item": "S2", "to_place": "FLOOR"},
    "scrap": {"item": "S2", "quantity": 1, "reason": "bent"},
    "count": {"place": "SHELF", "item": "S2", "counted": 70},
    "identify": {"item": "BIN", "code": "NEW", "quantity": 2, "parents": ["S1"], "evidence": "x"},
    "pack": {"carton": "NEW", "contents": [{"item": "S2"} | A_FEW]},
    "unpack": {"carton": "C1", "item": "S2"} | A_FEW,
    "ship": {"shipment": "NEW", "customer": "CLINIC", "contents": [{"item": "S2"} | A_FEW]},
    "return": {"item": "S2", "customer": "CLINIC", "within": "C2", "to_place": "RED-BOX"}
    | {"reason": "wrong", "quantity": 5},
    "open-case": {"case": "NEW", "subjects": ["S2"], "reason": "cracks"},
    "decide": {
        "case": "CASE-1",
        "members": [{"item": "BAR-2"}],
        "decision": "scrap",
        "reason": "cracks",
    },
    "close-case": {"case": "CASE-2", "reason": "was another"},
    "amend": {"reason": "x", "changes": [{"event": str(uuid.UUID(int=1)), "patch": {"note": "x"}}]},
    "void": {"event": str(uuid.UUID(int=11)), "reason": "x"},
}
"""For each kind an event that the furnished works accepts; the bad ones are changes of them."""

INPUT, PART, RETURN = "inputs.0.", "parts.0.", "returns.0.output."
RUN: Data = {"run_kind": "machining-run"}
FOUND: Data = {"code": "NEW", "candidates": ["S1", "S2"], "quantity": 2}

BAD: list[tuple[str, str, object, str]] = [
    # --- unknown codes
    *((kind, field, "NOWHERE", "unknown-code") for kind, field in (
        ("make", f"{INPUT}item"), ("blend", f"{INPUT}item"), ("pool", "inputs.1.item"),
        ("split", "item"), ("send", f"{INPUT}item"), ("take-back", "batch"),
        ("take-back", "returns.0.of.0.item"), ("mount", "positions.0.item"),
        ("swap", "unit"), ("dismantle", "unit"), ("inspect", "item"), ("test", "unit"),
        ("move", "item"), ("scrap", "item"), ("count", "item"), ("identify", "item"),
        ("identify", "parents.0"), ("pack", "contents.0.item"), ("unpack", "carton"),
        ("unpack", "item"), ("ship", "contents.0.item"), ("return", "item"),
        ("receive", "place"), ("move", "to_place"), ("count", "place"), ("send", "supplier"),
        ("return", "to_place"), ("pack", "place"), ("split", f"{PART}place"),
        ("make", "outputs.0.place"), ("take-back", f"{RETURN}place"),
    )),
    ("build", "inputs", [{"item": "NOWHERE"}], "unknown-code"),
    ("build", "resources", ["NOWHERE"], "unknown-code"),
    ("inspect", "resources", ["NOWHERE"], "unknown-code"),
    ("test", "resources", ["NOWHERE"], "unknown-code"),
    ("make", "run", RUN | {"code": "R", "resources": ["NOWHERE"]}, "unknown-code"),
    ("swap", "add", [{"item": "NOWHERE"}], "unknown-code"),
    ("swap", "remove.0.place", "NOWHERE", "unknown-code"),
    ("count", "found", {**FOUND, "candidates": ["NOWHERE"]}, "bad-event"),
    ("mount", "positions.0.position", "P9", "unknown-position"),
    ("amend", "changes.0.event", str(uuid.UUID(int=10**9)), "unknown-event"),
    ("void", "event", str(uuid.UUID(int=10**9)), "unknown-event"),
    ("make", f"{INPUT}item", "H1", "ambiguous-code"),
    ("split", "item", "S1", "ambiguous-place"),
    ("open-case", "subjects.0", "NOWHERE", "unknown-code"),
    ("decide", "case", "NOWHERE", "unknown-case"),
    ("decide", "members.0.item", "NOWHERE", "unknown-code"),
    ("close-case", "case", "NOWHERE", "unknown-case"),
    # --- quantities that are none
    *((kind, field, quantity, "bad-event")
      for kind, field in (
          ("receive", "quantity"), ("make", f"{INPUT}quantity"), ("make", "outputs.0.quantity"),
          ("split", f"{PART}quantity"), ("take-back", f"{RETURN}quantity"), ("scrap", "quantity"),
          ("count", "counted"), ("identify", "quantity"), ("unpack", "quantity"))
      for quantity in (-1, "NaN", "Infinity", "0.0000001", "1e13", "many", None, True, [1])
      if not (quantity is None and field in (f"{INPUT}quantity", "quantity", "counted"))),
    *((kind, field, 0, "bad-quantity") for kind, field in (
        ("receive", "quantity"), ("make", f"{INPUT}quantity"), ("make", "outputs.0.quantity"),
        ("split", f"{PART}quantity"), ("pack", "contents.0.quantity"), ("scrap", "quantity"),
        ("move", "quantity"), ("identify", "quantity"), ("ship", "contents.0.quantity"))),
    *((kind, field, "0.5", "bad-quantity") for kind, field in (
        ("receive", "quantity"), ("pool", "inputs.1.quantity"), ("split", f"{PART}quantity"),
        ("count", "counted"), ("scrap", "quantity"), ("identify", "quantity"),
        ("pack", "contents.0.quantity"), ("make", "outputs.0.quantity"))),
    # --- rules
    *((kind, field, "HELD", "rule-broken") for kind, field in (
        ("pool", "inputs.1.item"), ("split", "item"), ("mount", "positions.0.item"),
        ("move", "item"), ("pack", "contents.0.item"), ("ship", "contents.0.item"))),
    ("build", "inputs", [{"item": "HELD"}], "rule-broken"),
    ("swap", "add", [{"item": "HELD"}], "rule-broken"),
    ("inspect", "resources", ["OLD-GAUGE"], "rule-broken"),
    ("test", "resources", ["OLD-GAUGE"], "rule-broken"),
    *((kind, field, 1000, "rule-broken") for kind, field in (
        ("make", f"{INPUT}quantity"), ("blend", f"{INPUT}quantity"), ("split", f"{PART}quantity"),
        ("send", f"{INPUT}quantity"), ("move", "quantity"), ("scrap", "quantity"),
        ("pack", "contents.0.quantity"), ("unpack", "quantity"), ("ship", "contents.0.quantity"),
        ("identify", "quantity"))),
    ("inspect", "samples", 1000, "rule-broken"),
    ("mount", "positions.0.item", "T2", "rule-broken"),
    ("build", "bench", "B2", "rule-broken"),
    ("build", "part", "PUMPE", "rule-broken"),
    ("receive", "part", "SCROW", "rule-broken"),
    ("receive", "supplier", "NOBODY", "rule-broken"),
    ("ship", "customer", "NOBODY", "rule-broken"),
    ("ship", "contents", [{"item": "U1"}], "rule-broken"),
    ("pack", "contents", [{"item": "U1"}], "rule-broken"),
    ("unpack", "item", "S1", "rule-broken"),
    ("unpack", "carton", "C2", "rule-broken"),
    ("return", "customer", "HOSPITAL", "rule-broken"),
    ("return", "quantity", 6, "rule-broken"),
    ("take-back", "returns.0.of.0.item", "S1", "rule-broken"),
    ("test", "readings", [0, 0], "rule-broken"),
    ("inspect", "measures", [{"name": "bore", "values": [3], "max": 2}], "rule-broken"),
    ("decide", "members.0.item", "S2", "rule-broken"),
    ("decide", "members.0.quantity", 1000, "rule-broken"),
    ("close-case", "case", "CASE-1", "rule-broken"),
    # --- codes that are taken
    ("open-case", "case", "S1", "code-taken"),
    *((kind, field, "S1", "code-taken") for kind, field in (
        ("receive", "code"), ("make", "outputs.0.code"), ("blend", "code"), ("pool", "code"),
        ("split", f"{PART}code"), ("take-back", f"{RETURN}code"), ("build", "serial"),
        ("inspect", "inspection"), ("identify", "code"), ("pack", "carton"),
        ("ship", "shipment"))),
    ("make", "run", RUN | {"code": "S1"}, "code-taken"),
    ("count", "found", {**FOUND, "code": "S1"}, "bad-event"),
    ("swap", "code", "S1", "code-taken"),
    ("swap", "remove.0.code", "S1", "code-taken"),
    ("dismantle", "code", "S1", "code-taken"),
    # --- a child before its parent
    *((kind, "at", moment(0), "child-before-parent") for kind in (
        "make", "blend", "pool", "split", "swap", "dismantle", "identify", "pack", "ship",
        "mount")),
    # --- nonsense
    ("receive", "source", {"kind": "heat", "number": "H9"}, "bad-event"),
    ("receive", "unit", "kg", "bad-event"),
    ("receive", "item_kind", "unit", "bad-event"),
    ("make", "outputs", [], "bad-event"),
    ("make", "outputs.0.of", ["S1"], "bad-event"),
    ("make", "mixing", "former", "bad-event"),
    ("make", f"{INPUT}loss", 2, "bad-quantity"),
    ("pool", "inputs.1.item", "V1", "bad-event"),
    ("pool", "inputs.1.item", "T2", "bad-event"),
    ("split", "parts", [{"code": "N1", "quantity": 1}, {"code": "N1", "quantity": 1}], "bad-event"),
    ("send", "batch", "S1", "bad-event"),
    ("take-back", "batch", "S1", "bad-event"),
    ("take-back", "returns.0.of.0.quantity", 7, "bad-event"),
    ("mount", "positions", [{"position": "P2"}, {"position": "P2"}], "bad-event"),
    ("build", "quantity", 2, "bad-event"),
    ("build", "started", moment(900), "bad-event"),
    ("swap", "unit", "S1", "bad-event"),
    ("swap", "remove.0.item", "V1", "bad-event"),
    ("swap", "remove.0.quantity", 9, "bad-event"),
    ("dismantle", "unit", "S1", "bad-event"),
    ("inspect", "item", "MILL:H1", "bad-event"),
    ("inspect", "item", "TOOL", "bad-event"),
    ("inspect", "result", "rejected", "bad-event"),
    ("inspect", "result", "perhaps", "bad-event"),
    ("test", "unit", "S1", "bad-event"),
    ("scrap", "end", "used in", "bad-event"),
    ("count", "found", FOUND, "bad-event"),
    ("identify", "parents", ["T1"], "bad-event"),
    ("identify", "quantity", 15, "bad-event"),
    ("unpack", "carton", "S1", "bad-event"),
    ("open-case", "case", "CASE-1", "bad-event"),
    ("open-case", "subjects", [], "bad-event"),
    ("decide", "decision", "perhaps", "bad-event"),
    ("decide", "decision", "cleared by evidence", "bad-event"),
    ("decide", "members.0.quantity", -1, "bad-event"),
    ("amend", "changes.0.patch", {"kind": "split"}, "bad-amendment"),
    ("amend", "changes.0.patch", {"quantity": "lots"}, "bad-amendment"),
    ("amend", "changes.0.patch", {"color": "red"}, "bad-amendment"),
    ("amend", "changes.0.patch", {"code": None}, "bad-amendment"),
    ("amend", "changes.0.patch", {"code": "S9"}, "still-in-use"),
    ("amend", "changes.0.patch", {"code": "S2"}, "code-taken"),
    ("amend", "changes.0.patch", {"at": moment(20)}, "child-before-parent"),
    ("amend", "changes", [], "bad-event"),
    ("void", "event", str(uuid.UUID(int=1)), "still-in-use"),
    ("void", "event", "not an id", "bad-event"),
]  # fmt: skip


def changed(data: Data, path: str, value: object) -> Data:
    """Give a copy of an event with one field, named by its path, changed."""
    copy: Data = json.loads(json.dumps(data))
    *way, last = path.split(".")
    at: object = copy
    for step in way:
        at = at[int(step)] if isinstance(at, list) else at[step]  # type: ignore[index]
    if isinstance(at, list):
        at[int(last)] = value
    else:
        at[last] = value  # type: ignore[index]
    return copy


def refusal(works: Works, line: str) -> LotkinError:
    """Send a line in, expect it to be refused without a trace, and give the error."""
    before = dump(works.store)
    with pytest.raises(LotkinError) as refused:
        record(works.store, [parse_line(line, "line 1")], works.clock)
    assert dump(works.store) == before
    return refused.value


@pytest.mark.parametrize("kind", sorted(GOOD))
def test_the_events_that_the_bad_ones_are_made_from_are_accepted(kind: str) -> None:
    works = furnished()

    assert not works.do(kind, **GOOD[kind]).repeated


@pytest.mark.parametrize(("kind", "path", "value", "error"), BAD)
def test_a_bad_event_is_refused_for_its_fault_and_leaves_no_trace(
    kind: str, path: str, value: object, error: str
) -> None:
    works = furnished()
    line = json.dumps(changed(works.data(kind, **GOOD[kind]), path, value))

    assert refusal(works, line).kind == error


@pytest.mark.parametrize("kind", sorted(GOOD))
def test_an_event_with_a_field_too_many_or_one_missing_is_refused(kind: str) -> None:
    works = furnished()
    good = works.data(kind, **GOOD[kind])

    assert refusal(works, json.dumps({**good, "colour": "red"})).kind == "bad-event"
    for field in ("id", "at", "by", "kind"):
        without = {name: value for name, value in good.items() if name != field}
        assert refusal(works, json.dumps(without)).kind == "bad-event"


@pytest.mark.parametrize("kind", sorted(GOOD))
def test_an_event_cut_off_anywhere_is_refused(kind: str) -> None:
    works = furnished()
    line = json.dumps(works.data(kind, **GOOD[kind]))
    before = dump(works.store)
    for length in range(0, len(line), 7):
        with pytest.raises(LotkinError) as refused:
            parse_line(line[:length], "line 1")
        assert refused.value.kind == "bad-event"

    assert dump(works.store) == before


@pytest.mark.parametrize("kind", sorted(GOOD))
def test_the_id_of_an_event_is_not_used_for_another(kind: str) -> None:
    works = furnished()
    sent = works.data(kind, **GOOD[kind])
    works.send_in(sent)

    assert refusal(works, json.dumps({**sent, "note": "other"})).kind == "event-id-reused"
    assert works.send_in(sent).repeated


@pytest.mark.parametrize(
    "line",
    ["", "null", "[]", "7", '"receive"', "{", "{}", '{"kind": "recieve"}', '{"kind": 5}',
     '{"kind": null}', "{'kind': 'move'}", '{"kind": "move"} {}', "[" * 100_000,
     '{"a":' * 50_000, '{"kind": "move", "at": NaN}', "\x00", "\ud800"],
)  # fmt: skip
def test_a_line_that_is_no_event_is_refused(line: str) -> None:
    works = Works()

    assert refusal(works, line).kind == "bad-event"


def test_an_amendment_that_would_close_a_circle_is_refused_and_shows_it() -> None:
    works = furnished()
    pooled = works.pool("A", {"BIN": 5}, at=30)
    works.split("A", {"B": 2}, at=30)
    inputs = [{"item": "B", "quantity": 1, "place": "SHELF"}]
    data = works.data(
        "amend", reason="x", changes=[{"event": pooled.id, "patch": {"inputs": inputs}}]
    )
    error = refusal(works, json.dumps(data))

    assert error.kind == "circle"
    assert "B -> A -> B" in error.message


def test_of_several_events_sent_together_none_is_recorded_if_one_is_refused() -> None:
    works = furnished()
    before = dump(works.store)
    sent = [
        works.data("receive", code="N1", item_kind="purchased-lot", part="SCREW", place="SHELF"),
        works.data("move", item="N1", to_place="FLOOR"),
        works.data("move", item="NOWHERE", to_place="FLOOR"),
    ]
    with pytest.raises(LotkinError):
        record(works.store, [parse_line(json.dumps(one), "line") for one in sent], works.clock)

    assert dump(works.store) == before


@pytest.mark.parametrize(
    ("kind", "path", "value", "rule"),
    [row for row in BAD if row[3] == "rule-broken" and row[0] != "identify"],
)
def test_what_was_reported_after_the_fact_is_recorded_with_the_rule_that_it_broke(
    kind: str, path: str, value: object, rule: str
) -> None:
    works = furnished()
    sent = changed(works.data(kind, **GOOD[kind]), path, value)
    recorded = works.send_in({**sent, "reported": True})

    assert recorded.breaches


@pytest.mark.parametrize(
    ("kind", "path", "value", "error"),
    [row for row in BAD if row[3] in ("unknown-code", "child-before-parent", "code-taken")],
)
def test_nonsense_is_refused_even_if_reported(
    kind: str, path: str, value: object, error: str
) -> None:
    works = furnished()
    sent = changed(works.data(kind, **GOOD[kind]), path, value)

    assert refusal(works, json.dumps({**sent, "reported": True})).kind == error
