"""Coming in: by password, by badge and PIN at a station, by token; and what stops others."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from fastapi.testclient import TestClient

from lotkin.core.access.rights import Right
from lotkin.core.access.sign_in import (
    DESK_IDLE_US,
    STATION_IDLE_US,
    TokenKind,
    check_password,
    check_pin,
)
from lotkin.core.errors import WeakSecret
from lotkin_service.access.cookies import SESSION, STATION

if TYPE_CHECKING:
    from fastapi import FastAPI
    from httpx2 import Response

    from lotkin_service.state import Works

GOOD = "seven green lamps under oak"


def works_of(app: FastAPI) -> Works:
    works: Works = app.state.works
    return works


def client(app: FastAPI) -> TestClient:
    return TestClient(app, follow_redirects=False)


def desk(app: FastAPI, person: str = "ida") -> TestClient:
    """Give a client of somebody who came in by a password of their own."""
    given = works_of(app).sign_in.give_password(person)
    works_of(app).sign_in.change_password(person, given, GOOD)
    who = client(app)
    answer = who.post("/sign-in", data={"person": person, "password": GOOD})
    assert answer.status_code == 303
    return who


def csrf(who: TestClient) -> str:
    text = who.get("/password").text
    return text.split('name="csrf" content="')[1].split('"')[0]


def test_the_first_start_makes_an_admin_once(planned_app: FastAPI) -> None:
    sign_in = works_of(planned_app).sign_in
    assert sign_in.first_password()
    assert sign_in.first_password() == ""


def test_a_password_given_once_opens_only_the_page_to_change_it(planned_app: FastAPI) -> None:
    once = works_of(planned_app).sign_in.first_password()
    who = client(planned_app)
    answer = who.post("/sign-in", data={"person": "admin", "password": once})
    assert answer.headers["location"] == "/password"
    assert who.get("/").headers["location"] == "/password"
    assert who.get("/api/v1/cases").status_code == 401
    change = {"old": once, "new": GOOD, "csrf": csrf(who)}
    assert who.post("/password", data=change).headers["location"] == "/sign-in"
    assert who.get("/").headers["location"].startswith("/sign-in")
    who.post("/sign-in", data={"person": "admin", "password": GOOD})
    assert who.get("/").status_code == 200


def test_a_session_cookie_is_kept_from_scripts(planned_app: FastAPI) -> None:
    works_of(planned_app).sign_in.give_password("ida")
    given = works_of(planned_app).sign_in.give_password("ida")
    answer = client(planned_app).post("/sign-in", data={"person": "ida", "password": given})
    cookie = answer.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=lax" in cookie


@pytest.mark.parametrize("person", ["ida", "nobody", "", "admin", "x" * 300])
def test_a_wrong_sign_in_does_not_tell_what_was_wrong(planned_app: FastAPI, person: str) -> None:
    works_of(planned_app).sign_in.give_password("ida")
    answer = client(planned_app).post(
        "/sign-in", data={"person": person or " ", "password": "no such password"}
    )
    assert answer.status_code == 401
    assert "that is not right" in answer.text


def test_too_many_wrong_ones_are_stopped_for_the_person_too(planned_app: FastAPI) -> None:
    given = works_of(planned_app).sign_in.give_password("ida")
    who = client(planned_app)

    def one(password: str) -> Response:
        return who.post("/sign-in", data={"person": "ida", "password": password})

    answers = [one("wrong").status_code for _ in range(9)]
    assert answers[:8] == [401] * 8
    assert answers[8] == 429
    assert one(given).status_code == 429


@pytest.mark.parametrize(
    ("onward", "leads"),
    [
        ("/i/ABC?x=1", "/i/ABC?x=1"),
        ("//elsewhere.example/", "/"),
        ("https://elsewhere.example/", "/"),
        ("/\\elsewhere.example", "/"),
        ("javascript:alert(1)", "/"),
    ],
)
def test_a_sign_in_leads_to_pages_of_ours_only(
    planned_app: FastAPI, onward: str, leads: str
) -> None:
    desk(planned_app)
    answer = client(planned_app).post(
        "/sign-in", data={"person": "ida", "password": GOOD, "next": onward}
    )
    assert answer.headers["location"] == leads


def test_a_change_needs_what_the_session_gave_out(planned_app: FastAPI) -> None:
    who = desk(planned_app)
    new = {"events": [{"kind": "issue", "traveller": "T-9", "part": "STEM", "quantity": 5}]}
    assert who.post("/api/v1/events", json=new).json()["kind"] == "stale-form"
    wrong = who.post("/api/v1/events", json=new, headers={"X-CSRF-Token": "guessed"})
    assert wrong.json()["kind"] == "stale-form"
    event = {**new["events"][0], "id": str(uuid.uuid4()), "at": "2026-03-02T07:30:00Z"}
    right = {"X-CSRF-Token": csrf(who)}
    answer = who.post("/api/v1/events", json={"events": [event]}, headers=right)
    assert answer.status_code == 200, answer.text
    elsewhere = {**right, "Sec-Fetch-Site": "cross-site"}
    answer = who.post("/api/v1/events", json={"events": [event]}, headers=elsewhere)
    assert answer.status_code == 403


def test_an_enrolled_station_lets_people_in_by_badge_and_pin(planned_app: FastAPI) -> None:
    sign_in = works_of(planned_app).sign_in
    sign_in.give_pin("ida", "8305")
    who = client(planned_app)
    badge = {"badge": "ida", "pin": "8305"}
    assert who.post("/station/sign-in", json=badge).status_code in (303, 401)
    who.cookies.set(STATION, sign_in.enrol_station("tablet 1", "LATHE", "admin"))
    assert "Scan your badge" in who.get("/station").text
    assert who.post("/station/sign-in", json={**badge, "pin": "8306"}).status_code == 401
    assert who.post("/station/sign-in", json=badge).status_code == 200
    page = who.get("/station").text
    assert 'data-place="LATHE"' in page
    assert 'data-person="ida"' in page
    sign_in.shut_out(TokenKind.STATION, "tablet 1")
    assert who.get("/station").status_code == 200  # ida is still there, as at any desk
    assert 'data-place="LATHE"' not in who.get("/station").text


def test_a_pin_is_no_password(planned_app: FastAPI) -> None:
    works_of(planned_app).sign_in.give_pin("ida", "8305")
    answer = client(planned_app).post("/sign-in", data={"person": "ida", "password": "8305"})
    assert answer.status_code == 401


def test_a_machine_comes_in_by_its_token_and_needs_no_form_token(planned_app: FastAPI) -> None:
    token = works_of(planned_app).sign_in.let_machine_in("rig 1", [Right.ASK], "admin")
    machine = client(planned_app)
    machine.headers["Authorization"] = f"Bearer {token}"
    assert machine.get("/api/v1/cases").status_code == 200
    new = machine.post("/api/v1/cases", json={"codes": ["X"], "reason": "y"})
    assert new.json()["kind"] == "not-allowed"
    machine.headers["Authorization"] = "Bearer guessed"
    assert machine.get("/api/v1/cases").status_code == 401


def test_who_leaves_is_out_on_every_device_after_a_new_password(planned_app: FastAPI) -> None:
    first, second = desk(planned_app), client(planned_app)
    second.post("/sign-in", data={"person": "ida", "password": GOOD})
    assert second.get("/").status_code == 200
    change = {"old": GOOD, "new": "eleven blue lamps under ash", "csrf": csrf(first)}
    first.post("/password", data=change)
    assert second.get("/").status_code == 303


def test_signing_out_ends_the_session_itself(planned_app: FastAPI) -> None:
    who = desk(planned_app)
    kept = who.cookies[SESSION]
    who.post("/sign-out", data={"csrf": csrf(who)})
    who.cookies.set(SESSION, kept)
    assert who.get("/").status_code == 303


@pytest.mark.parametrize(("place", "idle"), [("", DESK_IDLE_US), ("LATHE", STATION_IDLE_US)])
def test_a_session_left_alone_ends(planned_app: FastAPI, place: str, idle: int) -> None:
    sign_in = works_of(planned_app).sign_in
    sign_in.give_pin("ida", "8305")
    given = sign_in.give_password("ida")
    now = works_of(planned_app).clock()
    sign_in.clock = lambda: now
    token, _ = sign_in.by_secret("ida", "8305" if place else given, place=place)
    assert sign_in.session(token) is not None
    sign_in.clock = lambda: now + idle + 1
    assert sign_in.session(token) is None


@pytest.mark.parametrize(
    "pin", ["", "123", "1234", "0000", "12a4", "1" * 13, "\u0661\u0662\u0663\u0665"]
)
def test_a_pin_that_everybody_tries_is_refused(pin: str) -> None:
    with pytest.raises(WeakSecret):
        check_pin(pin)


@pytest.mark.parametrize(
    "password", ["short", "aaaaaaaaaaaaaaaaaaaa", "idaidaidaidaidaida", "x" * 257]
)
def test_a_password_that_is_too_easy_is_refused(password: str) -> None:
    with pytest.raises(WeakSecret):
        check_password(password, "ida")


def test_no_secret_is_in_the_store_in_clear(planned_app: FastAPI, planned_db: str) -> None:
    sign_in = works_of(planned_app).sign_in
    sign_in.give_pin("ida", "830562")
    who = desk(planned_app)
    token = sign_in.let_machine_in("rig 1", [Right.ASK], "admin")
    secrets = [GOOD, "830562", token, who.cookies[SESSION]]
    with works_of(planned_app).store.engine.connect() as connection:
        connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")
    with open(planned_db, "rb") as file:  # noqa: PTH123 - the bytes as they lie there
        content = file.read()
    assert b"argon2id" in content
    assert [secret for secret in secrets if secret.encode() in content] == []


@pytest.mark.parametrize(
    "cookie", ["", "x", "\u00e4" * 10, "a" * 5000, "'; DROP TABLE sign_in; --"]
)
def test_a_hostile_cookie_is_nobody(planned_app: FastAPI, cookie: str) -> None:
    who = client(planned_app)
    raw = cookie.encode("utf-8").decode("latin-1")
    sent = f"{SESSION}={raw}; {STATION}={raw}".encode("latin-1")
    answer = who.get("/", headers={b"cookie": sent})
    assert answer.status_code == 303


def test_every_answer_tells_the_browser_to_run_nothing_of_others(planned_app: FastAPI) -> None:
    for path in ("/sign-in", "/health", "/static/lotkin.css", "/api/v1/cases", "/nowhere"):
        headers = client(planned_app).get(path).headers
        assert "script-src 'self'" in headers["content-security-policy"]
        assert headers["x-content-type-options"] == "nosniff"
