"""The service as a whole."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fastapi.testclient import TestClient

from lotkin_service.app import make_app
from lotkin_service.settings import ServiceSettings

if TYPE_CHECKING:
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
