"""Recording through the interface: what each role may, ids, readings of a rig, changes."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

import pytest
from fastapi.testclient import TestClient

from lotkin.core.access.rights import Right, Who
from lotkin.core.events import EVENTS
from tests.service.conftest import signed_in_as, signed_in_by_token

if TYPE_CHECKING:
    from fastapi import FastAPI

    from lotkin.core.plan import Role
    from tests.service.conftest import As


def event(kind: str = "issue", **fields: object) -> dict[str, Any]:
    issue = {"traveller": "T-9", "part": "STEM", "quantity": 5} if kind == "issue" else {}
    return {
        "kind": kind,
        "id": str(uuid.uuid4()),
        "at": "2026-03-02T07:30:00Z",
        "by": "ida",
        **issue,
        **fields,
    }


JUDGED = {"amend", "void", "open-case", "decide", "close-case", "drill", "identify", "seal"}
KEPT = {"plan", "import", "adopt"}


@pytest.mark.parametrize("kind", list(EVENTS))
def test_each_kind_of_event_is_recorded_by_those_who_may(planned_app: FastAPI, kind: str) -> None:
    may: dict[Role, bool] = {
        "operator": kind not in {*JUDGED, *KEPT, "receive"},
        "receiving": kind not in {*JUDGED, *KEPT},
        "quality": kind not in KEPT,
        "admin": kind in KEPT,
    }
    for role, allowed in may.items():
        client = signed_in_as(planned_app, "ida", role)
        answer = client.post("/api/v1/events", json={"events": [event(kind)]})
        assert (answer.json().get("kind") == "not-allowed") == (not allowed), role


def test_the_same_event_is_recorded_once_and_another_of_its_id_refused(
    planned_app: FastAPI,
) -> None:
    client = signed_in_as(planned_app, "ida", "operator")
    sent = event()
    first = client.post("/api/v1/events", json={"events": [sent]}).json()
    again = client.post("/api/v1/events", json={"events": [sent]}).json()
    assert first["recorded"][0]["event"] == again["recorded"][0]["event"]
    assert again["recorded"][0]["repeated"]
    other = client.post("/api/v1/events", json={"events": [{**sent, "quantity": 6}]})
    assert other.status_code == 409
    assert other.json()["kind"] == "event-id-reused"
    assert other.headers["content-type"] == "application/problem+json"


def test_all_events_are_recorded_or_none(planned_app: FastAPI) -> None:
    client = signed_in_as(planned_app, "ida", "operator")
    bad = event(traveller="T-10", part="NO-SUCH")
    answer = client.post("/api/v1/events", json={"events": [event(), bad]})
    assert answer.status_code in (404, 409, 422)
    assert client.get("/api/v1/changes?since=0&once=true").text.count("event: recorded") == 1


def test_nobody_records_in_the_name_of_another(planned_app: FastAPI) -> None:
    client = signed_in_as(planned_app, "ida", "operator")
    answer = client.post("/api/v1/events", json={"events": [event(by="eva")]})
    assert answer.json()["kind"] == "not-allowed"


def machine(app: FastAPI, *rights: Right) -> TestClient:
    """Give a client that shows the token of a machine."""
    who = Who("cell-1", "cell-1", frozenset({Right.ASK, *rights}), machine=True)
    return signed_in_by_token(app, who)


def test_a_machine_does_not_speak_for_people_unless_its_token_says_so(
    planned_app: FastAPI,
) -> None:
    alone = machine(planned_app, Right.WORK)
    for by in ("ida", "ghost"):
        answer = alone.post("/api/v1/events", json={"events": [event(by=by)]})
        assert answer.json()["kind"] == "not-allowed", by
    assert alone.post("/api/v1/events", json={"events": [event(by="cell-1")]}).is_success

    for_people = machine(planned_app, Right.WORK, Right.SPEAK)
    sent = event(by="ida", traveller="T-10")
    assert for_people.post("/api/v1/events", json={"events": [sent]}).is_success
    ghost = event(by="ghost", traveller="T-11")
    answer = for_people.post("/api/v1/events", json={"events": [ghost]})
    assert "ghost is nobody of the plan" in answer.json()["detail"]


def test_what_is_filled_in_is_refused_at_the_interface(planned_app: FastAPI) -> None:
    client = signed_in_as(planned_app, "ida", "operator")
    answer = client.post("/api/v1/events", json={"events": [event(inherits_hold="x")]})
    assert "inherits_hold is filled in" in answer.json()["detail"]


def test_a_rig_sends_its_readings_and_is_told_whether_the_unit_passes(demo_as: As) -> None:
    client = demo_as("operator", person="RIG")
    plan = client.get("/api/v1/plan").json()["plan"]
    part = next(part for part in plan["part"] if part["code"] == "DP40")
    test = part["test"][0]
    middle = (float(test["min"]) + float(test["max"])) / 2
    sent = {"id": str(uuid.uuid4()), "unit": "DP40-0458", "test": test["name"]}
    sent |= {"readings": [f"{middle:.2f}"] * test["readings"], "happened": True}
    answer = client.post("/api/v1/test-rigs/RIG-1/readings", json=sent)
    assert answer.status_code == 200, answer.text
    assert answer.json()["passed"] is True
    again = client.post("/api/v1/test-rigs/RIG-1/readings", json=sent)
    assert again.json()["repeated"]

    unknown = {**sent, "id": str(uuid.uuid4()), "test": test["name"].lower()}
    told = client.post("/api/v1/test-rigs/RIG-1/readings", json=unknown).json()
    assert told["passed"] is None
    assert told["breaches"]


def test_the_schema_of_events_is_that_of_the_command(planned_app: FastAPI) -> None:
    client = signed_in_as(planned_app, "ida", "operator")
    assert client.get("/api/v1/events/schema").json()["title"] == "Event"
    assert "traveller" in client.get("/api/v1/events/schema?kind=issue").text
    assert client.get("/api/v1/events/schema?kind=eat").status_code == 422


def test_changes_are_told_from_where_a_listener_was(planned_app: FastAPI) -> None:
    client = signed_in_as(planned_app, "ida", "operator")
    client.post("/api/v1/events", json={"events": [event()]})
    whole = client.get("/api/v1/changes?since=0&once=true").text
    assert whole.count("event: recorded") == 2
    rest = client.get("/api/v1/changes?once=true", headers={"Last-Event-ID": "1"}).text
    assert rest.count("event: recorded") == 1
    assert '"kind": "issue"' in rest
