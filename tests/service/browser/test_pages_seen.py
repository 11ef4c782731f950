"""Every page in a real browser: nothing in the console, and usable by everybody."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from axe_playwright_python.sync_playwright import Axe  # type: ignore[import-untyped]

from lotkin.uses.cases.case_work import Person, Selection, Verdict, decide, open_case
from lotkin.wiring import now_us, open_store

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.service.browser.conftest import Visit

    VisitTo = Callable[..., Visit]

pytestmark = pytest.mark.browser

PAGES = (
    "/",
    "/i/ANO-009?way=used",
    "/i/DP40-0404?way=from",
    "/contain?code=ANO-009",
    "/cases",
    "/complaint?serial=DP40-0404",
    "/cause?code=DP40-0404+DP40-0405+DP40-0406",
    "/audit",
    "/drills",
    "/compare?scopes=ANO-009",
    "/dispersion",
    "/goods-in",
    "/print",
    "/keep",
    "/password",
    "/late-scans",
    "/station",
    "/station?place=LATHE",
)
GRAVE = ("serious", "critical")


def grave(visit: Visit) -> list[str]:
    """List what axe-core finds grave on a page, by rule and place."""
    found = Axe().run(visit.page)
    return [
        f"{each['id']}: {node['target']}"
        for each in found.response["violations"]
        if each["impact"] in GRAVE
        for node in each["nodes"][:3]
    ]


@pytest.mark.parametrize(("width", "dark"), [(1280, False), (360, True)])
def test_every_page_is_sound_and_usable(
    visit_to: VisitTo, demo_db: str, width: int, dark: bool
) -> None:
    store = open_store(demo_db)
    case = open_case(store, ["T-0045-30"], "coating too thin", Person("quinn", now_us)).case.code
    store.close()
    visit = visit_to(demo_db, width=width, dark=dark)
    visit.service.password_for("quinn")
    visit.go("/sign-in")
    assert grave(visit) == []
    visit.sign_in("quinn")
    for path in (*PAGES, f"/cases/{case}"):
        page = visit.go(path)
        assert grave(visit) == [], path
        beyond = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
        assert page.evaluate(beyond) <= 0, f"{path} is wider than {width} px"


def test_a_case_is_opened_decided_and_closed_in_a_browser(visit_to: VisitTo, demo_db: str) -> None:
    visit = visit_to(demo_db)
    visit.service.password_for("quinn")
    visit.sign_in("quinn")
    page = visit.go("/contain?code=DP40-0404")
    page.get_by_label("Reason").fill("leaks at the head")
    page.get_by_role("button", name="Open a case").click()
    page.wait_for_url("**/cases/CASE-*")
    for box in page.get_by_role("checkbox").all():
        box.check()
    page.get_by_label("Decision").select_option("recall")
    page.get_by_label("Reason").fill("it leaks")
    page.get_by_role("button", name="Decide").click()
    page.get_by_label("How it ended").fill("taken back and scrapped")
    page.get_by_role("button", name="Close the case").click()
    page.get_by_text("✓ closed").wait_for()


def test_a_case_is_drawn_anew_when_something_is_recorded_but_no_form_is_taken_away(
    visit_to: VisitTo, demo_db: str
) -> None:
    store = open_store(demo_db)
    quinn = Person("quinn", now_us)
    shown = open_case(store, ["T-0045-30"], "coating too thin", quinn)
    first, second = shown.undecided[:2]
    visit = visit_to(demo_db)
    visit.service.password_for("quinn")
    visit.sign_in("quinn")
    page = visit.go(f"/cases/{shown.case.code}")
    page.wait_for_timeout(300)  # the browser listens by then
    decide(store, shown.case.code, Verdict("scrap", "flakes"), quinn, Selection((first,)))
    page.get_by_text("Drawn anew").wait_for()
    assert page.get_by_role("cell", name="flakes").count() == 1

    page.get_by_label("Reason").fill("half a sen")
    decide(store, shown.case.code, Verdict("scrap", "peels"), quinn, Selection((second,)))
    page.get_by_text("Something was recorded since").wait_for()
    assert page.get_by_label("Reason").input_value() == "half a sen"
