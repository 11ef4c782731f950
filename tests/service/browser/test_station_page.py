"""A station in a real browser: worked by a scanner that types, and without a connection."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import pypdfium2  # type: ignore[import-untyped]
import pytest
from PIL import Image

from lotkin.core.genealogy.items import Item
from lotkin.uses.cases.case_work import Person, open_case
from lotkin.wiring import open_store
from lotkin_labels import label_item, print_labels
from tests.scanning.station import BAR_LABEL, ScannedWorks
from tests.service.browser.conftest import Service, Visit
from tests.uses.stations.test_served_station import filled

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from playwright.sync_api import Browser, Page

    VisitTo = Callable[..., Visit]

pytestmark = pytest.mark.browser

ITEM = Item(code="T-1/10", kind="machined-lot", part="STEM")


def scan(page: Page, *texts: str) -> None:
    """Scan as a wedge does: keys into whatever has the focus, then Enter; wait for the answer."""
    for text in texts:
        before = page.locator("#said li").count()
        said = page.locator("#reply .say").inner_text()
        if not text or text.startswith("$"):
            page.wait_for_timeout(800)  # as long as it takes to read the answer before
        for character in text:
            if character == "\x1d":
                page.keyboard.press("Control+]")
            elif character == "\x1e":
                page.keyboard.press("Control+6")
            elif character == "\x04":
                page.keyboard.press("Control+d")
            else:
                page.keyboard.type(character)
        page.keyboard.press("Enter")
        page.wait_for_function(
            "([count, said]) => document.querySelectorAll('#said li').length !== count"
            " || document.querySelector('#reply .say').textContent !== said",
            arg=[before, said],
        )


def tone(page: Page) -> str:
    return page.locator("#reply").get_attribute("data-tone") or ""


def at(visit: Visit, place: str) -> Page:
    page = visit.go(f"/station?place={place}")
    page.locator("#station[data-ready=yes]").wait_for()
    return page


def works_in(db: str) -> ScannedWorks:
    works = ScannedWorks()
    works.store = open_store(db)
    works.now = 1_760_000_000_000_000
    return works


def test_a_job_is_done_by_keys_alone(visit_to: VisitTo, planned_db: str) -> None:
    works = filled(works_in(planned_db), with_plan=False)
    visit = visit_to(planned_db)
    visit.service.password_for("ida")
    visit.sign_in("ida")
    page = at(visit, "STORE")
    scan(page, BAR_LABEL, "STORE", "", "$CONFIRM")
    assert tone(page) == "done", page.locator("#reply").inner_text()
    bar = works.only("bar-lot")
    page = at(visit, "LATHE")
    scan(page, "T-1/10", bar, "LATHE-1", "98")
    page.get_by_role("button", name="Accept").click()
    page.locator("#ask", has_text="diameter").wait_for()
    scan(page, "5.98")
    page.get_by_role("button", name="Confirm").click()
    page.locator("#reply[data-tone=done]").wait_for()
    assert works.only("machined-lot", "STEM")


def test_a_held_lot_is_refused_at_the_station(visit_to: VisitTo, planned_db: str) -> None:
    works = filled(works_in(planned_db), with_plan=False)
    visit = visit_to(planned_db, width=360, height=780)
    visit.service.password_for("ida")
    visit.sign_in("ida")
    page = at(visit, "STORE")
    scan(page, BAR_LABEL, "STORE", "", "$CONFIRM")
    bar = works.only("bar-lot")
    case = open_case(works.store, [bar], "wrong alloy", Person("ida", works.clock)).case.code
    page = at(visit, "LATHE")
    scan(page, "T-1/10", bar)
    assert tone(page) == "refused"
    assert case in page.locator("#reply .say").inner_text()
    assert page.locator("#alert").inner_text()


def test_of_two_windows_the_one_that_has_not_seen_the_last_scan_shows_what_is_in_hand(
    visit_to: VisitTo, planned_db: str
) -> None:
    filled(works_in(planned_db), with_plan=False)
    visit = visit_to(planned_db)
    visit.service.password_for("ida")
    visit.sign_in("ida")
    page = at(visit, "LATHE")
    other = page.context.new_page()
    other.goto(page.url)
    other.locator("#station[data-ready=yes]").wait_for()
    page.bring_to_front()
    scan(page, "T-1/10")
    other.bring_to_front()
    scan(other, "$COUNT")
    assert tone(other) == "refused"
    assert "somebody else scanned" in other.locator("#reply .say").inner_text()
    assert "T-1/10" in other.locator("#station").inner_text()
    scan(other, "$CANCEL")
    assert tone(other) == "ok"


def test_scans_wait_while_the_service_is_away_and_nothing_is_lost(
    visit_to: VisitTo, planned_db: str
) -> None:
    works = filled(works_in(planned_db), with_plan=False)
    visit = visit_to(planned_db)
    visit.service.password_for("ida")
    visit.sign_in("ida")
    page = at(visit, "STORE")
    scan(page, BAR_LABEL, "STORE", "", "$CONFIRM")
    bar = works.only("bar-lot")
    page = at(visit, "LATHE")
    page.evaluate("navigator.serviceWorker.ready")
    page.reload()  # from now on the worker of the page keeps it
    page.locator("#station[data-ready=yes]").wait_for()
    visit.service.stop()
    scan(page, "T-1/10", bar, "LATHE-1", "98")
    page.locator("#waiting", has_text="4 scans wait").wait_for()
    page.reload()
    page.locator("#waiting", has_text="4 scans wait").wait_for()
    scan(page, "", "5.98", "$CONFIRM")
    open_case(works.store, [bar], "wrong alloy", Person("ida", works.clock))
    visit.service.start()
    page.locator("#reply[data-tone=done]").wait_for(timeout=30_000)
    assert "recorded although" in page.locator("#reply .say").inner_text()
    page.locator("#waiting").wait_for(state="hidden")
    assert works.only("machined-lot", "STEM")
    assert len([i for i in works.items().values() if i.kind == "machined-lot"]) == 1
    # a browser says in its console that the service was away; nothing else may be there
    visit.complaints[:] = [c for c in visit.complaints if "ERR_CONNECTION_REFUSED" not in c]


def film(folder: Path, text: str) -> Path:
    """Make a film of a printed label for the browser's fake camera (Motion JPEG)."""
    label = print_labels([label_item(ITEM, None, payload=text)], "TAPE-62")
    page = pypdfium2.PdfDocument(label)[0]
    seen = page.render(scale=4).to_pil().convert("RGB")
    frame = Image.new("RGB", (1280, 720), "white")
    seen.thumbnail((1200, 640))
    frame.paste(seen, (40, 40))
    picture = io.BytesIO()
    frame.save(picture, "JPEG", quality=90)
    made = folder / "label.mjpeg"
    made.write_bytes(picture.getvalue() * 30)
    return made


def test_a_printed_label_is_scanned_by_the_camera(
    launch: Callable[..., Browser], planned_db: str, tmp_path: Path
) -> None:
    works = filled(works_in(planned_db), with_plan=False)
    assert works.items()
    service = Service(planned_db)
    service.password_for("ida")
    running = launch(
        "--use-fake-ui-for-media-stream",
        "--use-fake-device-for-media-stream",
        f"--use-file-for-fake-video-capture={film(tmp_path, 'T-1/10')}",
    )
    page = running.new_page()
    visit = Visit(page, service, [])
    visit.sign_in("ida")
    at(visit, "LATHE")
    page.get_by_role("button", name="Camera").click()
    page.locator("#about", has_text="T-1/10").wait_for(timeout=20_000)
    running.close()
    service.stop()


def test_a_double_tap_on_a_proposal_never_confirms(visit_to: VisitTo, planned_db: str) -> None:
    works = filled(works_in(planned_db), with_plan=False)
    visit = visit_to(planned_db, width=390, height=844)
    visit.service.password_for("ida")
    visit.sign_in("ida")
    page = at(visit, "STORE")
    scan(page, BAR_LABEL, "STORE")
    accept = page.get_by_role("button", name="Accept")
    accept.click()
    page.locator("#main-actions [data-scan='$CONFIRM']").wait_for()
    page.locator("#main-actions [data-scan='$CONFIRM']").dispatch_event("click")
    page.wait_for_timeout(200)
    assert tone(page) != "done"
    assert [item for item in works.items().values() if item.kind == "bar-lot"] == []
    page.get_by_role("button", name="Confirm").click()
    page.locator("#reply[data-tone=done]").wait_for()
