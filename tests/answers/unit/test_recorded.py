"""What is on record of a unit stands in the same rows for the command, for pages and on paper."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from lotkin.uses.complaints.complaint import complaint
from lotkin.uses.reporting.report_data import unit_data
from lotkin_answers.places import Places
from lotkin_answers.unit.recorded import (
    change_rows,
    inspection_rows,
    limits_of_test,
    rows_of_tests,
    unit_record,
    way_rows,
)
from lotkin_answers.unit.wording import no_inspections, no_papers, no_tests, no_way, verdict
from tests.labels.reports.pump_works import pumps

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.small_works import Works


@pytest.fixture
def works() -> Works:
    """Give a works with a pump that was shipped, returned, tested, looked at and repaired."""
    works = pumps(1, shipped=1, reference="PO 7")
    works.do("return", item="PUMP-0001", to_place="SHELF", reason="drips", hold=False)
    works.test("PUMP-0001", 3)
    works.inspect(
        "PUMP-0001",
        "QC-7",
        "rejected",
        measures=[{"name": "bore", "values": ["6.050", "6.1"], "unit": "mm"}],
    )
    works.bar("BAR-B", 5, heat="H49")
    works.make({"TIP-2": 5}, {"BAR-B": 1}, run="RUN-2")
    works.swap(
        "PUMP-0001",
        [{"item": "TIP-1", "position": "P1", "end": "scrap"}],
        {"TIP-2": 1},
        note="worn",
    )
    return works


def test_rows_say_what_was_found_done_and_sent(works: Works) -> None:
    found = complaint(works.store, "PUMP-0001")
    places = Places(unit_data(works.store, "PUMP-0001").plan)

    assert [
        (row.what, row.customer, row.reference, row.reason) for row in way_rows(found, places)
    ] == [
        ("packed", "", "", ""),
        ("shipped", "CLINIC (Clinic)", "PO 7", ""),
        ("returned", "CLINIC (Clinic)", "", "drips"),
    ]
    (inspection,) = inspection_rows(found, places)
    assert inspection.is_of_unit
    assert (inspection.result, inspection.measured) == ("rejected", "bore 6.05 6.1 mm")
    (change,) = change_rows(found, places)
    assert (change.taken_out, change.put_in) == (
        "P1 TIP-1 to scrap, now TIP-1/2",
        "TIP-2",
    )
    assert change.note == "worn"


def test_limits_and_verdicts_are_written_alike(works: Works) -> None:
    found = complaint(works.store, "PUMP-0001")
    record = unit_record(unit_data(works.store, "PUMP-0001"), works.clock())

    assert [limits_of_test(test) for test in found.tests] == ["at most 1 kPa", "at most 1 kPa"]
    assert next(rows_of_tests(found, Places(None))).readings == "0 kPa"
    assert [verdict(test.is_passed) for test in record.tests] == ["passed", "failed"]


def test_a_test_that_was_not_judged_is_never_called_passed_or_failed() -> None:
    assert verdict(None) == "not judged"


@pytest.mark.parametrize("said", [no_tests, no_inspections, no_papers, no_way])
def test_what_did_not_come_along_is_never_said_to_be_absent(said: Callable[..., str]) -> None:
    assert "not part of what was imported" in said(is_imported=True)
    for absent in ("no ", "none", "nothing"):
        assert not said(is_imported=True).startswith(absent)
    assert said(is_imported=False).startswith(("no ", "none"))
