"""A service on a works: asked without a network, and by those who sign in as they would."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from fastapi.testclient import TestClient

from lotkin.core.access.rights import Who, rights_of
from lotkin.uses.access.sign_in import SignIn
from lotkin.uses.recording.load_plan import load_plan
from lotkin.wiring import create_store, now_us, open_store
from lotkin_service.app import make_app
from lotkin_service.settings import ServiceSettings
from tests.demo_stores import demo_file

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from fastapi import FastAPI

    from lotkin.core.plan import Role
    from lotkin_service.state import Works

    As = Callable[..., TestClient]

PLAN = Path(__file__).parent.parent / "scanning" / "works.toml"


@pytest.fixture
def empty_db(tmp_path: Path) -> str:
    path = str(tmp_path / "works.db")
    create_store(path).close()
    return path


@pytest.fixture
def planned_db(empty_db: str) -> str:
    """Give a store with a plan and nothing else."""
    store = open_store(empty_db)
    load_plan(store, PLAN.read_text(), PLAN.name, by="ida", clock=now_us)
    store.close()
    return empty_db


@pytest.fixture(scope="session")
def demo_master(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("demo") / "demo.db"
    demo_file(path)
    return path


@pytest.fixture
def demo_db(demo_master: Path, tmp_path: Path) -> str:
    """Give a copy of the demo works that may be changed."""
    return str(shutil.copy(demo_master, tmp_path / "demo.db"))


class AlsoKnown(SignIn):
    """Lets in as the service does, and those whom a test has named, by what they show."""

    def __init__(self, known: SignIn) -> None:
        super().__init__(known.store, known.hashes, known.plan, known.clock)
        self.named: dict[str, Who] = {}

    def machine(self, token: str) -> Who | None:
        """Tell who shows a token."""
        return self.named.get(token) or super().machine(token)


def signed_in_by_token(app: FastAPI, who: Who) -> TestClient:
    """Give a client that shows a token of somebody, or of a machine, at the door."""
    works: Works = app.state.works
    if not isinstance(works.sign_in, AlsoKnown):
        works.sign_in = AlsoKnown(works.sign_in)
    shown = f"{who.person} with {' and '.join(sorted(who.rights))}"
    works.sign_in.named[shown] = who
    return TestClient(app, headers={"Authorization": f"Bearer {shown}"})


def signed_in_as(app: FastAPI, person: str, *roles: Role) -> TestClient:
    """Give a client behind which somebody with some roles stands."""
    return signed_in_by_token(app, Who(person, person.title(), rights_of(roles)))


def clients(db: str, person: str = "ida") -> Iterator[As]:
    app = make_app(ServiceSettings(db))
    yield lambda *roles, person=person: signed_in_as(app, person, *roles)
    app.state.works.close()


@pytest.fixture
def client_as(empty_db: str) -> Iterator[As]:
    """Give a client of a service on an empty store; its argument are the roles of who asks."""
    yield from clients(empty_db)


@pytest.fixture
def demo_as(demo_db: str) -> Iterator[As]:
    """Give a client of a service on the demo works."""
    yield from clients(demo_db, "quinn")


@pytest.fixture
def planned_app(planned_db: str) -> Iterator[FastAPI]:
    app = make_app(ServiceSettings(planned_db))
    yield app
    app.state.works.close()
