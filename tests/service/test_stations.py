"""A station through the service: who is there, and queues of devices whose clock was wrong."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any

import pytest
from fastapi.testclient import TestClient

from lotkin.uses.recording.load_plan import load_plan
from lotkin.wiring import create_store, now_us
from lotkin_service.access.cookies import STATION
from lotkin_service.app import make_app
from lotkin_service.settings import ServiceSettings
from tests.scanning.station import PLAN

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

DEVICE = str(uuid.uuid4())
DAY_MS = 24 * 3600 * 1000


@pytest.fixture
def tablet(tmp_path: Path) -> Iterator[TestClient]:
    """Give the browser of a device that is enrolled for the store; ida and ben have PINs."""
    db = str(tmp_path / "works.db")
    store = create_store(db)
    person = '[[person]]\ncode = "ben"\nname = "Ben Achter"\nroles = ["operator"]\n\n'
    load_plan(store, f"{person}{PLAN.read_text()}", "works.toml", by="ida", clock=now_us)
    store.close()
    app = make_app(ServiceSettings(db))
    sign_in = app.state.works.sign_in
    for code, pin in (("ida", "8305"), ("ben", "5917")):
        sign_in.give_pin(code, pin)
    client = TestClient(app, follow_redirects=False)
    client.cookies.set(STATION, sign_in.enrol_station("tablet 1", "STORE", "admin"))
    come_in(client, "ida", "8305")
    yield client
    app.state.works.close()


def come_in(client: TestClient, person: str, pin: str) -> None:
    answer = client.post("/station/sign-in", json={"badge": person, "pin": pin})
    assert answer.status_code == 200, answer.text


def send(
    client: TestClient, *texts: str, age_ms: int = 0, person: str = "", seen: int | None = None
) -> dict[str, Any]:
    page = client.get("/station").text
    headers = {"X-CSRF-Token": page.split('name="csrf" content="')[1].split('"')[0]}
    body: dict[str, Any] = {}
    for text in texts:
        scan = {"id": str(uuid.uuid4()), "text": text, "age_ms": age_ms, "person": person}
        answer = client.post(
            "/api/v1/stations/STORE/scans",
            json={"device": DEVICE, "scans": [scan], "seen": seen},
            headers=headers,
        )
        assert answer.status_code == 200, answer.text
        body = answer.json()
        seen = body["hand"]["counter"] if seen is not None else None
    return body


def test_a_badge_of_another_takes_their_pin_and_then_it_is_theirs(tablet: TestClient) -> None:
    body = send(tablet, "ben")
    assert (body["hand"]["claim"], body["hand"]["claim_name"]) == ("ben", "Ben Achter")
    assert send(tablet, "$MOVE")["replies"][0]["tone"] == "refused"
    page = tablet.get("/station/badge", params={"badge": "ben"}).text
    assert 'value="ben"' in page
    assert "Ida Quell goes on" in page
    come_in(tablet, "ben", "5917")
    assert send(tablet, "$MOVE")["hand"]["person"] == "ben"
    assert send(tablet, "$CANCEL")["hand"]["person"] == "ben"


def test_of_two_windows_at_one_station_the_one_that_has_not_seen_the_last_scan_is_told(
    tablet: TestClient,
) -> None:
    seen = send(tablet, "$MOVE")["hand"]["counter"]
    send(tablet, "$CANCEL", "$COUNT", seen=seen)
    body = send(tablet, "$CONFIRM", seen=seen)
    assert "$CONFIRM is not taken" in body["replies"][0]["say"]
    assert body["replies"][0]["tone"] == "refused"
    assert body["hand"]["title"] == "count"
    body = send(tablet, "$CANCEL", seen=body["hand"]["counter"])
    assert body["hand"]["title"] == ""


def test_a_wrong_pin_leaves_who_was_there(tablet: TestClient) -> None:
    send(tablet, "ben")
    wrong = tablet.post("/station/sign-in", json={"badge": "ben", "pin": "0000"})
    assert wrong.status_code == 401
    assert send(tablet, "ida")["hand"]["person"] == "ida"
    assert send(tablet, "$MOVE")["hand"]["title"] == "move"


def test_the_session_of_who_was_there_before_ends(tablet: TestClient) -> None:
    before = dict(tablet.cookies)
    come_in(tablet, "ben", "5917")
    stale = TestClient(tablet.app, cookies=before, follow_redirects=False)
    assert 'data-person="ida"' not in stale.get("/station").text


@pytest.mark.parametrize("age_ms", [20_000 * DAY_MS, -400 * DAY_MS, 91 * DAY_MS])
def test_a_queue_of_a_device_whose_clock_was_wrong_is_taken(
    tablet: TestClient, age_ms: int
) -> None:
    body = send(
        tablet,
        *("$RECEIVE", "BLANK", "NORD", "L77", "STORE", "25", "$CONFIRM"),
        age_ms=age_ms,
        person="ida",
    )
    assert body["replies"][0]["tone"] == "done", body
