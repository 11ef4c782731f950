"""The audit's findings on the pages: kept with the record that they are of, and their age."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING, Any

import pytest

from lotkin.uses.asking.audit import audit
from lotkin_service.app import make_app
from lotkin_service.background import findings as kept
from lotkin_service.background.background_jobs import Repeated, beside
from lotkin_service.settings import ServiceSettings
from tests.service.api.test_recording import event
from tests.service.conftest import signed_in_as

if TYPE_CHECKING:
    from collections.abc import Iterator

    from fastapi import FastAPI

    from lotkin.uses.asking.audit import Audit
    from lotkin_service.state import Works


@pytest.fixture
def demo_app(demo_db: str) -> Iterator[FastAPI]:
    app = make_app(ServiceSettings(demo_db))
    yield app
    app.state.works.close()


def works_of(app: FastAPI) -> Works:
    works: Works = app.state.works
    return works


def test_the_first_page_is_shown_before_gaps_were_looked_for(demo_app: FastAPI) -> None:
    quality = signed_in_as(demo_app, "ida", "quality")
    for path in ("/", "/audit", "/audit?kind=stock-negative"):
        text = quality.get(path).text
        assert "being worked out" in text, path
        assert "Whether there are any is not known yet." in text
        assert "No gaps" not in text
        assert "None of this kind" not in text
        assert "✓" not in text.split("<main")[1].split("Open cases")[0]


def test_no_page_looks_for_gaps_itself(demo_app: FastAPI, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept, "audit", lambda *_: pytest.fail("the page ran the audit"))
    quality = signed_in_as(demo_app, "ida", "quality")
    assert quality.get("/").status_code == 200
    assert quality.get("/audit").status_code == 200


def test_findings_say_of_which_record_they_are_and_how_old(planned_app: FastAPI) -> None:
    works = works_of(planned_app)
    works.findings.round()
    operator = signed_in_as(planned_app, "ida", "operator")
    for path in ("/", "/audit"):
        text = operator.get(path).text
        assert "Gaps as recorded up to no. 1, worked out less than a minute ago." in text
        assert "No gaps" in text
        assert "come since" not in text
    operator.post("/api/v1/events", json={"events": [event()]})
    now = works.clock()
    works.clock = lambda: now + 180_000_000
    for path in ("/", "/audit"):
        text = " ".join(operator.get(path).text.split())
        assert "up to no. 1, worked out 3 minutes ago. 1 record has come since" in text
        assert "✓" not in text.split("Gaps as recorded")[1]
    works.findings.round()
    assert "up to no. 2, worked out less than a minute ago." in operator.get("/").text


def test_findings_are_worked_out_again_only_after_a_record_an_hour_or_when_asked(
    planned_app: FastAPI, monkeypatch: pytest.MonkeyPatch
) -> None:
    works = works_of(planned_app)
    done: list[int] = []
    real = audit

    def counted(*given: Any) -> Audit:
        done.append(1)
        return real(*given)

    monkeypatch.setattr(kept, "audit", counted)
    works.findings.round()
    works.findings.round()
    assert len(done) == 1
    works.findings.ask_anew()
    works.findings.round()
    assert len(done) == 2
    now = works.clock()
    works.clock = lambda: now + kept.OLDEST_US + 1
    works.findings.round()
    assert len(done) == 3


def test_an_audit_that_failed_is_never_shown_as_no_gaps(
    planned_app: FastAPI, monkeypatch: pytest.MonkeyPatch
) -> None:
    works = works_of(planned_app)
    real = audit

    def fails(*_: object) -> None:
        raise RuntimeError

    monkeypatch.setattr(kept, "audit", fails)
    operator = signed_in_as(planned_app, "ida", "operator")
    with pytest.raises(RuntimeError):
        works.findings.round()
    for path in ("/", "/audit"):
        text = operator.get(path).text
        assert "could not be worked out" in text
        assert "No gaps" not in text
    monkeypatch.setattr(kept, "audit", real)
    works.findings.round()
    assert "No gaps" in operator.get("/audit").text
    monkeypatch.setattr(kept, "audit", fails)
    works.findings.ask_anew()
    with pytest.raises(RuntimeError):
        works.findings.round()
    text = operator.get("/audit").text
    assert "could not be worked out anew" in text
    assert "✓" not in text.split("<main")[1]


def test_gaps_are_looked_for_anew_when_somebody_asks(planned_app: FastAPI) -> None:
    works = works_of(planned_app)
    works.findings.round()
    operator = signed_in_as(planned_app, "ida", "operator")
    assert "being worked out anew" in operator.post("/audit").text
    works.findings.round()
    assert "being worked out anew" not in operator.get("/audit").text


def test_gaps_are_looked_for_beside_the_answering(planned_app: FastAPI) -> None:
    works = works_of(planned_app)
    jobs = beside(works)
    for job in jobs:
        job.start()
    until = time.monotonic() + 30
    while works.findings.kept is None and time.monotonic() < until:
        time.sleep(0.05)
    for job in jobs:
        job.stop()
    assert works.findings.kept is not None
    assert works.findings.kept.found.as_of == 1


def test_a_job_that_is_hurried_is_done_again_at_once() -> None:
    done: list[int] = []

    def job() -> float:
        done.append(1)
        return 600.0

    repeated = Repeated("counting", job)
    repeated.start()
    until = time.monotonic() + 30
    while len(done) < 3 and time.monotonic() < until:
        repeated.hurry()
        time.sleep(0.01)
    repeated.stop()
    assert len(done) >= 3
