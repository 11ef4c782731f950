"""A job from goods-in to shipment through the pages of stations, by a scanner that types."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from lotkin.core.dialogue import Reply, Tone
from lotkin.wiring import open_store
from tests.scanning.station import ScannedWorks
from tests.scanning.test_job import scanned_job
from tests.service.browser.test_station_page import at, scan, tone

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.service.browser.conftest import Visit

    VisitTo = Callable[..., Visit]

pytestmark = pytest.mark.browser


class WorksOfPages(ScannedWorks):
    """A works whose every scan goes through the page of a station."""

    def __init__(self, visit: Visit, db: str) -> None:
        super().__init__(store=open_store(db))
        self.visit, self.place = visit, ""
        visit.service.works.clock = self.clock

    def scan(self, place: str, *texts: str) -> Reply:
        if place != self.place:
            at(self.visit, place)
            self.place = place
        page = self.visit.page
        for text in texts:
            scan(page, text)
            said = page.locator("#reply .say").inner_text()
            assert tone(page) != "refused" or text is texts[-1], f"{place} {text}: {said}"
        return Reply(Tone(tone(page)), said)


def test_a_job_goes_through_the_pages_from_goods_in_to_shipment(
    visit_to: VisitTo, empty_db: str
) -> None:
    visit = visit_to(empty_db)
    works = WorksOfPages(visit, empty_db)
    visit.service.password_for("ida")
    visit.sign_in("ida")
    scanned_job(works)
    assert works.only("shipment")
    units = [item for item in works.items().values() if item.kind == "unit"]
    assert {unit.serial for unit in units} == {"V-1", "V-2"}
