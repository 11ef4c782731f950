"""A real browser before a real service; whatever its console complains of fails the test."""

from __future__ import annotations

import shutil
import socket
import threading
import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

import pytest
import uvicorn
from playwright.sync_api import sync_playwright

from lotkin_service.app import make_app
from lotkin_service.settings import ServiceSettings

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from playwright.sync_api import Browser, BrowserContext, Page

    from lotkin_service.state import Works

NAMES = ("chromium", "chromium-browser", "google-chrome")
QUIET = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
PASSWORD = "seven green lamps under oak"


def chromium() -> str | None:
    return next(filter(None, map(shutil.which, NAMES)), None)


class Service:
    """A service in a thread, that can be stopped and started at the same address."""

    def __init__(self, db: str) -> None:
        self.db = db
        free = socket.socket()
        free.bind(("127.0.0.1", 0))
        self.port = free.getsockname()[1]
        free.close()
        self.address = f"http://127.0.0.1:{self.port}"
        self.start()

    def start(self) -> None:
        app = make_app(ServiceSettings(self.db, poll_s=0.05))
        self.works: Works = app.state.works
        config = uvicorn.Config(app, port=self.port, log_level="error", timeout_graceful_shutdown=1)
        self.server = uvicorn.Server(config)
        self.works.stops_when = lambda: self.server.should_exit
        self.thread = threading.Thread(target=self.server.run, daemon=True)
        self.thread.start()
        while not self.server.started:
            time.sleep(0.02)

    def stop(self) -> None:
        self.server.should_exit = True
        self.thread.join(10)

    def password_for(self, person: str) -> None:
        once = self.works.sign_in.give_password(person)
        self.works.sign_in.change_password(person, once, PASSWORD)


@dataclass
class Visit:
    """A page in a browser, with what its console said."""

    page: Page
    service: Service
    complaints: list[str]

    def go(self, path: str) -> Page:
        self.page.goto(self.service.address + path)
        return self.page

    def sign_in(self, person: str) -> None:
        self.go("/sign-in")
        self.page.get_by_label("Code, as on your badge").fill(person)
        self.page.get_by_label("Password").fill(PASSWORD)
        self.page.keyboard.press("Enter")
        self.page.wait_for_url(self.service.address + "/")


@pytest.fixture(scope="session")
def launch() -> Iterator[Callable[..., Browser]]:
    """Give a way to start browsers, with more options if need be; one driver serves them all."""
    found = chromium()
    if found is None:
        pytest.skip("no Chromium: install the package `chromium` to run the browser tests")
    with sync_playwright() as playwright:
        yield lambda *options: playwright.chromium.launch(
            executable_path=found, args=[*QUIET, *options]
        )


@pytest.fixture(scope="session")
def browser(launch: Callable[..., Browser]) -> Iterator[Browser]:
    running = launch()
    yield running
    running.close()


@pytest.fixture
def visit_to(browser: Browser) -> Iterator[Callable[..., Visit]]:
    """Give visits to a service on a store; what their consoles complain of fails the test."""
    services: list[Service] = []
    contexts: list[BrowserContext] = []
    visits: list[Visit] = []

    def visit(db: str, *, width: int = 1280, height: int = 900, dark: bool = False) -> Visit:
        service = Service(db)
        services.append(service)
        context = browser.new_context(
            viewport={"width": width, "height": height},
            color_scheme="dark" if dark else "light",
            reduced_motion="reduce",
        )
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(15_000)
        made = Visit(page, service, [])
        page.on("console", lambda m: made.complaints.append(m.text) if m.type == "error" else None)
        page.on("pageerror", lambda error: made.complaints.append(str(error)))
        visits.append(made)
        return made

    yield visit
    for context in contexts:
        context.close()
    for service in services:
        service.stop()
    assert [c for made in visits for c in made.complaints] == []
