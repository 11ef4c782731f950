"""The service as a whole."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from fastapi.testclient import TestClient

from lotkin_service.app import make_app
from lotkin_service.door.body_limit import MOST_BYTES
from lotkin_service.settings import ServiceSettings

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tests.service.conftest import As


def test_health_is_told_to_everybody(empty_db: str) -> None:
    with TestClient(make_app(ServiceSettings(empty_db))) as client:
        assert client.get("/health").json() == {"status": "ok"}


def test_a_page_asked_for_by_nobody_leads_to_the_sign_in(empty_db: str) -> None:
    with TestClient(make_app(ServiceSettings(empty_db)), follow_redirects=False) as client:
        answer = client.get("/")
    assert answer.status_code == 303
    assert answer.headers["location"] == "/sign-in?next=%2F"


def test_somebody_signed_in_sees_the_first_page(client_as: As) -> None:
    answer = client_as("operator").get("/")
    assert answer.status_code == 200
    assert "lotkin" in answer.text


@pytest.mark.parametrize("path", ["/api/v1/frames", "/goods-in", "/sign-in"])
def test_a_body_that_is_too_large_is_not_read(client_as: As, path: str) -> None:
    client = client_as("receiving")
    brought = {"content-type": "multipart/form-data; boundary=x"}

    def endless() -> Iterator[bytes]:
        sent = 0
        while sent < 3 * MOST_BYTES:
            yield b"--x\r\n" + b"a" * 2**20
            sent += 2**20

    assert client.post(path, content=endless(), headers=brought).status_code in (400, 413)
    said = {**brought, "content-length": str(MOST_BYTES + 1)}
    assert client.post(path, content=b"--x", headers=said).status_code == 413
