"""The interface against its own description: nothing undeclared, nothing broken."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from lotkin.uses.recording.load_plan import load_plan
from lotkin.wiring import create_store, now_us
from lotkin_service.app import make_app
from lotkin_service.settings import ServiceSettings
from tests.service.conftest import PLAN, signed_in_as

if TYPE_CHECKING:
    from collections.abc import Iterator

CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
]
EXAMPLES = 15
LEFT_OUT = "/api/v1/changes"
"""It tells changes for as long as somebody listens; see test_changes."""


@pytest.fixture(scope="module")
def described(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    path = str(Path(tmp_path_factory.mktemp("described")) / "works.db")
    store = create_store(path)
    load_plan(store, PLAN.read_text(), PLAN.name, by="ida", clock=now_us)
    store.close()
    app = make_app(ServiceSettings(path))
    signed_in_as(app, "ida", "operator", "receiving", "quality", "admin")
    yield schemathesis.openapi.from_asgi("/api/v1/openapi.json", app)
    app.state.works.close()


def test_no_request_breaks_the_interface(described: Any) -> None:
    seen = 0
    for found in described.get_all_operations():
        operation = found.ok()
        if operation.path == LEFT_OUT:
            continue
        seen += 1

        @settings(
            max_examples=EXAMPLES,
            deadline=None,
            derandomize=True,
            database=None,
            suppress_health_check=list(HealthCheck),
        )
        @given(operation.as_strategy())
        def ask(case: Any) -> None:
            case.call_and_validate(checks=CHECKS)

        ask()
    assert seen > 25
