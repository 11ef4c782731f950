"""The door of the service: who it is comes before anything that a request brings."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

import pytest
from fastapi.testclient import TestClient

from lotkin.core.access.rights import Right
from lotkin_service.door.body_limit import MOST_BYTES_SIGNED_OUT, MOST_BYTES_USUALLY
from lotkin_service.door.connections import HEADERS_WITHIN_S, MOST_WITHOUT_REQUEST
from lotkin_service.settings import ServiceSettings
from lotkin_service.state import Works
from tests.service.served import Served, answer_to

if TYPE_CHECKING:
    from collections.abc import Iterator

    from fastapi import FastAPI

    from tests.service.conftest import As

SAID_64_MB = "Content-Length: 64000000"
CHUNKED = "Transfer-Encoding: chunked"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    from lotkin.wiring import create_store

    path = str(tmp_path_factory.mktemp("door") / "works.db")
    create_store(path).close()
    running = Served(path)
    yield running
    running.end()


def head(method: str, path: str, *more: str) -> bytes:
    """Write the head of a request that brings JSON."""
    lines = (f"{method} {path} HTTP/1.1", "Host: x", "Content-Type: application/json", *more)
    return ("\r\n".join(lines) + "\r\n\r\n").encode()


@pytest.mark.parametrize("length", [SAID_64_MB, CHUNKED])
@pytest.mark.parametrize(
    ("route", "status"),
    [
        ("POST /api/v1/events", 401),
        ("PUT /api/v1/plan", 401),
        ("POST /api/v1/frames", 401),
        ("POST /api/v1/no-such-thing", 401),
        ("POST /goods-in", 303),
        ("POST /keep/plan", 303),
    ],
)
def test_who_is_not_signed_in_is_answered_before_the_body_is_sent(
    served: Served, route: str, status: int, length: str
) -> None:
    with served.connect() as connection:
        connection.sendall(head(*route.split(), length))
        found, text = answer_to(connection)
    assert found == status
    assert b"connection: close" in text.lower()


def test_a_sign_in_that_is_too_large_is_answered_before_it_is_sent(served: Served) -> None:
    for path in ("/sign-in", "/station/sign-in", "/sign-out"):
        with served.connect() as connection:
            connection.sendall(head("POST", path, f"Content-Length: {MOST_BYTES_SIGNED_OUT + 1}"))
            assert answer_to(connection)[0] == 413


def test_a_sign_in_in_pieces_is_cut_off_where_it_becomes_too_large(served: Served) -> None:
    form = "Content-Type: application/x-www-form-urlencoded"
    piece = b"4000\r\n" + b"a" * 0x4000 + b"\r\n"
    with served.connect() as connection:
        connection.sendall(
            f"POST /sign-in HTTP/1.1\r\nHost: x\r\n{form}\r\n{CHUNKED}\r\n\r\n".encode()
        )
        for _ in range(MOST_BYTES_SIGNED_OUT // 0x4000 + 1):
            connection.sendall(piece)
        assert answer_to(connection)[0] == 413


def test_64_mb_of_nobody_are_not_kept_and_hold_up_nobody(served: Served) -> None:
    before = served.most_memory_mib()
    block = b'{"a":1},' * 8192
    with served.connect() as connection:
        connection.sendall(head("POST", "/api/v1/events", SAID_64_MB) + b'{"events":[')
        try:
            for _ in range(64_000_000 // len(block)):
                connection.sendall(block)
        except ConnectionError:
            pass  # it may hang up when it has had enough
        assert answer_to(connection)[0] in (401, 0)
    assert served.most_memory_mib() - before < 30


def test_nobody_is_let_past_the_door_by_a_wrong_token(planned_app: FastAPI) -> None:
    wrong = TestClient(planned_app, headers={"Authorization": "Bearer guessed"})
    assert wrong.post("/api/v1/events", content=b"[" * 100_000).status_code == 401


def test_what_somebody_signed_in_sends_has_a_limit_by_route(client_as: As) -> None:
    large = b'{"events": [' + b" " * MOST_BYTES_USUALLY + b"]}"

    def status(who: TestClient, method: str, path: str) -> int:
        headers = {"Content-Type": "application/json"}
        return who.request(method, path, content=large, headers=headers).status_code

    operator, receiver, admin = client_as("operator"), client_as("receiving"), client_as("admin")
    assert status(operator, "POST", "/api/v1/events") == 413
    assert "1 MiB" in operator.post("/api/v1/events", content=large).json()["detail"]
    assert status(operator, "POST", "/goods-in") == 413
    assert status(receiver, "POST", "/goods-in") != 413
    assert status(operator, "PUT", "/api/v1/plan") == 413
    assert status(admin, "PUT", "/api/v1/plan") == 422


def test_long_json_is_read_and_answered_as_short_json_is(client_as: As) -> None:
    operator = client_as("operator")
    for blanks in (0, 100_000):
        body = b'{"events": []' + b" " * blanks + b"}"
        headers = {"Content-Type": "application/json"}
        assert operator.post("/api/v1/events", content=body, headers=headers).status_code == 422
        torn = operator.post("/api/v1/events", content=body[:-1], headers=headers)
        assert "JSON" in torn.json()["detail"]


def test_a_slash_too_many_leads_nowhere(planned_app: FastAPI) -> None:
    client = TestClient(planned_app, follow_redirects=False, headers={"Host": "elsewhere.example"})
    answer = client.get("/keep/")
    assert answer.status_code == 404
    assert "location" not in answer.headers


def test_a_connection_that_sends_no_headers_is_closed(served: Served) -> None:
    with (
        served.connect(HEADERS_WITHIN_S + 20) as silent,
        served.connect(HEADERS_WITHIN_S + 20) as half,
    ):
        half.sendall(b"POST /sign-in HTTP/1.1\r\nHost: x\r\nContent-Le")
        assert answer_to(silent) == (0, b"")
        assert answer_to(half) == (0, b"")


def test_half_open_connections_shut_nobody_out(served: Served) -> None:
    opened = [served.connect() for _ in range(MOST_WITHOUT_REQUEST + 20)]
    try:
        for each in opened:
            each.sendall(b"POST /sign-in HTTP/1.1\r\nHost: x\r\n")
        began = time.monotonic()
        with served.connect() as connection:
            connection.sendall(b"GET /health HTTP/1.1\r\nHost: x\r\n\r\n")
            assert answer_to(connection)[0] == 200
        assert answer_to(opened[0]) == (0, b""), "the oldest makes room"
        assert time.monotonic() - began < HEADERS_WITHIN_S
    finally:
        for each in opened:
            each.close()


def test_a_connection_takes_one_request_after_another(served: Served) -> None:
    with served.connect() as connection:
        for _ in range(3):
            connection.sendall(b"GET /health HTTP/1.1\r\nHost: x\r\n\r\n")
            assert answer_to(connection)[0] == 200


def test_a_machine_with_its_token_may_send_its_body_later(empty_db: str) -> None:
    works = Works(ServiceSettings(empty_db))
    token = works.sign_in.let_machine_in("rig", [Right.ASK], "admin")
    works.close()
    running = Served(empty_db)
    try:
        with running.connect() as connection:
            said = f"Authorization: Bearer {token}"
            body = b'{"events": []}'
            connection.sendall(head("POST", "/api/v1/events", said, f"Content-Length: {len(body)}"))
            time.sleep(0.3)
            connection.sendall(body)
            assert answer_to(connection)[0] == 422
    finally:
        running.end()
