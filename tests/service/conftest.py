"""A service on a small works, asked without a network."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from fastapi.testclient import TestClient

from lotkin.core.access import Who, rights_of
from lotkin.wiring import create_store
from lotkin_service.access.guard import who_if_any, who_is
from lotkin_service.app import make_app
from lotkin_service.settings import ServiceSettings

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from lotkin.core.plan import Role

    As = Callable[..., TestClient]


@pytest.fixture
def empty_db(tmp_path: Path) -> str:
    path = str(tmp_path / "works.db")
    create_store(path).close()
    return path


@pytest.fixture
def client_as(empty_db: str) -> Iterator[As]:
    """Give a client of a service on an empty store; its argument are the roles of who asks."""
    app = make_app(ServiceSettings(empty_db))

    def signed_in(*roles: Role, person: str = "NOA") -> TestClient:
        who = Who(person, person.title(), rights_of(roles))
        app.dependency_overrides[who_is] = lambda: who
        app.dependency_overrides[who_if_any] = lambda: who
        return TestClient(app)

    yield signed_in
    app.state.works.close()
