"""Values at the ends of what can be written: moments, halves of characters, spans without runs."""

from __future__ import annotations

import json
import uuid
from typing import TYPE_CHECKING, Any

import pytest

from tests.service.api.test_recording import event

if TYPE_CHECKING:
    from fastapi.testclient import TestClient

    from tests.service.conftest import As

ENDS = ("9999-12-31T23:59:59-10:00", "0001-01-01T00:00:00+10:00")
HALF = "bad\ud800"


@pytest.fixture
def quality(demo_as: As) -> TestClient:
    return demo_as("quality", "admin", person="quinn")


def send(client: TestClient, method: str, path: str, sent: dict[str, Any]) -> Any:
    """Send JSON with halves of characters as escapes, as any program may."""
    headers = {"Content-Type": "application/json"}
    return client.request(method, path, content=json.dumps(sent), headers=headers)


def test_a_moment_at_the_end_of_the_calendar_is_said_to_be_none(quality: TestClient) -> None:
    for moment in ENDS:
        for side in ("from", "to"):
            for path in ("contain", "hold-first", "next-question", "items/ANO-009/where-used"):
                asked = {"code": "ANO-009", side: moment}
                answer = quality.get(f"/api/v1/{path}", params=asked)
                assert answer.status_code == 422, (path, answer.text)
                assert "is not a date that a works can have" in answer.json()["detail"]
            new = {"codes": ["ANO-009"], "reason": "x", side: moment}
            assert send(quality, "POST", "/api/v1/cases", new).status_code == 422
        readings = {"id": str(uuid.uuid4()), "unit": "DP40-0404", "test": "x", "readings": ["1"]}
        answer = send(quality, "POST", "/api/v1/test-rigs/RIG/readings", {**readings, "at": moment})
        assert answer.status_code == 422
        answer = send(quality, "POST", "/api/v1/events", {"events": [event(at=moment)]})
        assert answer.status_code == 422
    for local in ("9999-12-31T23:59", "0001-01-01T00:00"):
        page = quality.get("/contain", params={"code": "ANO-009", "from": local, "start": local})
        assert page.status_code in (200, 409, 422)


@pytest.mark.parametrize(
    ("method", "path", "sent"),
    [
        ("POST", "cases", {"codes": ["ANO-009"], "reason": HALF}),
        ("POST", "cases", {"codes": [HALF], "reason": "x"}),
        ("POST", "cases", {HALF: 1}),
        ("POST", "cases/CASE-001/decisions", {"decision": "scrap", "reason": HALF, "kind": "unit"}),
        ("POST", "cases/CASE-001/close", {"reason": HALF}),
        ("POST", "drills", {"code": HALF}),
        ("POST", "events", {"events": [event(traveller=HALF)]}),
        ("POST", "events", {"events": [event(by=HALF)]}),
        ("POST", "events", {"events": [event(HALF)]}),
        ("POST", "events", {"events": [event() | {HALF: 1}]}),
        ("POST", "events", {"events": [{HALF: 1}]}),
        ("PUT", "plan", {"toml": f'[works]\nname = "{HALF}"\n'}),
        ("PUT", "plan", {"toml": HALF}),
    ],
)
def test_half_a_character_is_refused(
    quality: TestClient, method: str, path: str, sent: dict[str, Any]
) -> None:
    answer = send(quality, method, f"/api/v1/{path}", sent)
    assert 400 <= answer.status_code < 500, answer.text
    assert answer.json()["detail"]


def test_half_a_character_by_an_operator_is_refused(demo_as: As) -> None:
    sent = {"events": [event(by=HALF)]}
    answer = send(demo_as("operator"), "POST", "/api/v1/events", sent)
    assert answer.status_code == 403
    assert "bad\\ud800" in answer.json()["detail"]


def test_a_span_in_which_nothing_falls_is_answered(quality: TestClient) -> None:
    for start, end in (
        ("2030-01-01T00:00:00Z", "2030-02-01T00:00:00Z"),
        ("2019-01-01T00:00:00Z",) * 2,
    ):
        for path in ("contain", "hold-first", "next-question", "items/ANO-009/where-used"):
            asked = {"code": "ANO-009", "from": start, "to": end}
            answer = quality.get(f"/api/v1/{path}", params=asked)
            assert answer.status_code < 500, (path, answer.text)
            assert answer.json()
