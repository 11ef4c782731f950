"""Take the pictures of the README: real pages of the demo works, in a real browser."""

from __future__ import annotations

import shutil
import sys
import tempfile
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).parent.parent))

import lotkin_demo
from lotkin.wiring import create_store
from tests.service.browser.conftest import PASSWORD, QUIET, Service, chromium

HERE = Path(__file__).parent / "pictures"
PICTURES = (
    ("contain", "/contain?code=ANO-009", 1200, 800),
    ("station", "/station?place=LATHE", 800, 640),
    ("item", "/i/T-0045-30?way=used", 1200, 800),
)


def main() -> None:
    """Build the demo works, serve it, and take each picture."""
    HERE.mkdir(exist_ok=True)
    folder = Path(tempfile.mkdtemp())
    store = create_store(str(folder / "demo.db"))
    lotkin_demo.build(store)
    store.close()
    service = Service(str(folder / "demo.db"))
    service.password_for("quinn")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=list(QUIET))
        page = browser.new_page()
        page.goto(f"{service.address}/sign-in")
        page.get_by_label("Code, as on your badge").fill("quinn")
        page.get_by_label("Password").fill(PASSWORD)
        page.keyboard.press("Enter")
        page.wait_for_url(f"{service.address}/")
        for name, path, width, height in PICTURES:
            page.set_viewport_size({"width": width, "height": height})
            page.goto(service.address + path)
            if name == "station":
                page.locator("#station[data-ready=yes]").wait_for()
                page.keyboard.type("T-0044/30")
                page.keyboard.press("Enter")
                page.wait_for_timeout(800)
            page.screenshot(path=HERE / f"{name}.png")
            with Image.open(HERE / f"{name}.png") as taken:
                small = taken.convert("RGB").quantize(64)
            small.save(HERE / f"{name}.png", optimize=True)
        browser.close()
    service.stop()
    shutil.rmtree(folder)


if __name__ == "__main__":
    main()
