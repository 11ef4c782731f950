"""Each route for each role: who may, who may not."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from fastapi.routing import APIRoute
from fastapi.testclient import TestClient

from lotkin.core.access.rights import RIGHTS_OF, Right
from lotkin_service.api import routes as api_routes
from lotkin_service.pages import routes as page_routes
from tests.service.conftest import signed_in_as

if TYPE_CHECKING:
    from fastapi import FastAPI

    from lotkin.core.plan import Role

OPEN: Right | None = None

RIGHTS: dict[str, Right | None] = {
    "GET /health": OPEN,
    "GET /metrics": OPEN,  # to this machine; see test_serving
    "GET /sign-in": OPEN,
    "POST /sign-in": OPEN,
    "POST /station/sign-in": OPEN,
    "GET /station/badge": Right.WORK,
    "POST /sign-out": OPEN,
    "GET /station/worker.js": OPEN,
    "GET /station/manifest.json": OPEN,
    "GET /": Right.ASK,
    "GET /password": Right.ASK,
    "POST /password": Right.ASK,
    "GET /station": Right.WORK,
    "GET /find": Right.ASK,
    "GET /I/{code:path}": Right.ASK,
    "GET /01/{gtin}/21/{serial:path}": Right.ASK,
    "GET /i/{code:path}": Right.ASK,
    "GET /picture.svg": Right.ASK,
    "GET /contain": Right.ASK,
    "POST /contain": Right.JUDGE,
    "GET /goods-in": Right.RECEIVE,
    "POST /goods-in": Right.RECEIVE,
    "GET /cases": Right.ASK,
    "GET /cases/{case}": Right.ASK,
    "POST /cases/{case}/decisions": Right.JUDGE,
    "POST /cases/{case}/close": Right.JUDGE,
    "GET /compare": Right.ASK,
    "GET /dispersion": Right.ASK,
    "GET /complaint": Right.ASK,
    "GET /cause": Right.ASK,
    "GET /audit": Right.ASK,
    "POST /audit": Right.ASK,
    "GET /drills": Right.ASK,
    "POST /drills": Right.JUDGE,
    "GET /late-scans": Right.JUDGE,
    "POST /late-scans": Right.JUDGE,
    "GET /print/label.pdf": Right.ASK,
    "GET /print/containment.{ending}": Right.ASK,
    "GET /print/case.{ending}": Right.ASK,
    "GET /print/unit.{ending}": Right.ASK,
    "GET /print": Right.ASK,
    "GET /print/cards.pdf": Right.ASK,
    "GET /print/dispatch-note.pdf": Right.ASK,
    "GET /print/traveller.pdf": Right.ASK,
    "POST /print/traveller.pdf": Right.WORK,
    "GET /keep": Right.KEEP,
    "POST /keep/passwords": Right.KEEP,
    "POST /keep/pins": Right.KEEP,
    "POST /keep/stations": Right.KEEP,
    "POST /keep/machines": Right.KEEP,
    "POST /keep/end": Right.KEEP,
    "POST /keep/plan": Right.KEEP,
    "GET /api/v1/contain": Right.ASK,
    "GET /api/v1/hold-first": Right.ASK,
    "GET /api/v1/next-question": Right.ASK,
    "GET /api/v1/items/{code:path}/sample": Right.ASK,
    "GET /api/v1/cases": Right.ASK,
    "GET /api/v1/cases/compare": Right.ASK,
    "POST /api/v1/cases": Right.JUDGE,
    "GET /api/v1/cases/{case}": Right.ASK,
    "POST /api/v1/cases/{case}/decisions": Right.JUDGE,
    "POST /api/v1/cases/{case}/close": Right.JUDGE,
    "GET /api/v1/find": Right.ASK,
    "GET /api/v1/items/{code:path}/where-from": Right.ASK,
    "GET /api/v1/items/{code:path}/where-used": Right.ASK,
    "GET /api/v1/items/{code:path}/account": Right.ASK,
    "GET /api/v1/items/{code:path}/complaint": Right.ASK,
    "GET /api/v1/items/{code:path}": Right.ASK,
    "GET /api/v1/common-cause": Right.ASK,
    "GET /api/v1/audit": Right.ASK,
    "GET /api/v1/dispersion": Right.ASK,
    "GET /api/v1/drills": Right.ASK,
    "POST /api/v1/drills": Right.JUDGE,
    "GET /api/v1/verify": Right.ASK,
    "POST /api/v1/events": Right.ASK,  # and by kind: see test_recording
    "GET /api/v1/events/schema": Right.ASK,
    "POST /api/v1/test-rigs/{rig}/readings": Right.WORK,
    "GET /api/v1/plan": Right.ASK,
    "PUT /api/v1/plan": Right.KEEP,
    "GET /api/v1/documents/{sha256}": Right.ASK,
    "GET /api/v1/stations/{place}": Right.WORK,
    "POST /api/v1/stations/{place}/scans": Right.WORK,
    "POST /api/v1/frames": Right.WORK,
    "GET /api/v1/late-scans": Right.JUDGE,
    "POST /api/v1/late-scans/{number}/seen": Right.JUDGE,
    "GET /api/v1/changes": Right.ASK,
}

ROLES: tuple[Role, ...] = ("operator", "receiving", "quality", "admin")


def test_every_route_says_who_may() -> None:
    served = {
        f"{method} {route.path}"
        for router in (*api_routes.ROUTERS, *page_routes.ROUTERS)
        for route in router.routes
        if isinstance(route, APIRoute)
        for method in route.methods or ()
    }
    assert served == set(RIGHTS)


def address(path: str) -> str:
    for name, value in (
        ("{code:path}", "X"),
        ("{case}", "X"),
        ("{rig}", "X"),
        ("{place}", "LATHE"),
        ("{number}", "7f000000-0000-4000-8000-000000000001"),
        ("{sha256}", "0" * 64),
        ("{gtin}", "09521234000006"),
        ("{serial:path}", "X"),
        ("{ending}", "pdf"),
    ):
        path = path.replace(name, value)
    return f"{path}?once=true" if path.endswith("/changes") else path


@pytest.mark.parametrize("route", [route for route, right in RIGHTS.items() if right is not OPEN])
def test_a_route_lets_those_in_who_have_the_right(planned_app: FastAPI, route: str) -> None:
    method, path = route.split(" ")
    right = RIGHTS[route]
    for role in ROLES:
        client = signed_in_as(planned_app, "ida", role)
        client.follow_redirects = False
        answer = client.request(method, address(path))
        assert (answer.status_code == 403) == (right not in RIGHTS_OF[role]), (role, answer.text)
    nobody = TestClient(planned_app, follow_redirects=False).request(method, address(path))
    assert nobody.status_code == (401 if path.startswith("/api/") else 303), nobody.text
