"""Notices to customers: all that each has, and nothing of what another one has."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from lotkin.core.errors import Invalid
from lotkin.uses.asking.where import Question
from lotkin.uses.reporting.customer_data import customer_data
from lotkin_labels.paper.wording import show_day
from lotkin_labels.printing.reports import customer_report
from lotkin_labels.reports import (
    CustomerNotice,
    CustomerReport,
    HeldItem,
    customer_table,
    print_customers,
)
from tests.labels.rendering import text_of
from tests.labels.reports.pump_works import pumps, report_on, serials
from tests.small_works import PLAN

if TYPE_CHECKING:
    from tests.small_works import Works

COUNTRY = "CH"


def report(works: Works, *codes: str) -> CustomerReport:
    data = customer_data(works.store, codes)
    notices = [
        CustomerNotice(
            customer,
            customer.title(),
            tuple(
                HeldItem(
                    row=one.row,
                    carton=one.carton,
                    shipment=one.shipment,
                    shipped_on=show_day(one.shipped_at, data.containment.plan),
                    reference=one.reference,
                )
                for one in holdings
            ),
            COUNTRY,
        )
        for customer, holdings in data.customers.items()
    ]
    return CustomerReport(report_on(works, *codes), tuple(notices))


def two_customers() -> Works:
    """Ship a carton of two pumps to the clinic, an open pump to the hospital, spare tips to it."""
    works = pumps(4, shipped=2, reference="PO 7")
    works.test("PUMP-0003")
    works.ship("SHIP-2", "PUMP-0003", customer="HOSPITAL", reference="PO 8")
    works.make({"TIP-9": 6}, {"BAR-A": 1}, run="RUN-9")
    works.ship("SHIP-3", {"TIP-9": 4}, customer="HOSPITAL")
    return works


def test_each_customer_has_a_page_with_what_only_they_have() -> None:
    pages = text_of(print_customers(report(two_customers(), "H48")))

    assert len(pages) == 2
    clinic, hospital = pages
    assert re.findall(r"PUMP-\d{4}", clinic) == serials(2)
    assert re.findall(r"PUMP-\d{4}", hospital) == ["PUMP-0003"]
    assert "2 units 1 carton" in clinic
    assert "Shipment SHIP-1 of 2026-03-02, your reference PO 7" in clinic
    assert "carton CARTON-1" in clinic
    assert "TIP-9: 4 pcs" in hospital
    assert "CLINIC" not in hospital
    assert "HOSPITAL" not in clinic
    assert all("page 1 of 1" in page for page in pages)
    assert not any("responsible persons" in page for page in pages)


def test_a_long_notice_goes_on_under_its_heading() -> None:
    pages = text_of(print_customers(report(pumps(700, shipped=700), "RUN-1")))

    assert len(pages) > 1
    assert "carton CARTON-1 (continued)" in pages[1]
    assert f"page 2 of {len(pages)}" in pages[1]
    found = set(re.findall(r"PUMP-\d{4}", " ".join(pages)))
    assert found == set(serials(700))


def test_the_table_has_a_row_for_all_that_is_at_a_customer() -> None:
    table = customer_table(report(two_customers(), "H48"))

    names = [column.name for column in table.columns]
    rows = [dict(zip(names, row, strict=True)) for row in table.rows]
    assert {(row["customer"], row["code"], row["shipment"]) for row in rows} == {
        ("CLINIC", "CARTON-1", "SHIP-1"),
        ("CLINIC", "PUMP-0001", "SHIP-1"),
        ("CLINIC", "PUMP-0002", "SHIP-1"),
        ("HOSPITAL", "PUMP-0003", "SHIP-2"),
        ("HOSPITAL", "TIP-9", "SHIP-3"),
    }
    tips = next(row for row in rows if row["code"] == "TIP-9")
    assert (tips["quantity"], tips["unit"], tips["reference"]) == (4, "pcs", "")


def test_a_unit_shipped_again_elsewhere_is_told_with_its_new_shipment() -> None:
    works = pumps(1, shipped=1)
    works.do("return", item="PUMP-0001", to_place="SHELF", reason="wrong address", hold=False)
    works.ship("SHIP-2", "PUMP-0001", customer="HOSPITAL")

    (notice,) = [one for one in report(works, "RUN-1").notices if one.serials]

    assert notice.customer == "HOSPITAL"
    assert [item.shipment for item in notice.items if item.row.kind == "unit"] == ["SHIP-2"]


def test_there_is_nothing_to_print_if_no_customer_has_any() -> None:
    with pytest.raises(Invalid, match="no letters; at customers: nothing"):
        print_customers(report(pumps(2), "RUN-1"))


def test_possibly_affected_stands_on_no_page_where_all_is_affected() -> None:
    data = report(two_customers(), "H48")
    assert all(item.row.certain for notice in data.notices for item in notice.items)
    assert "ossibly affected" not in " ".join(text_of(print_customers(data)))


def test_the_notice_and_its_table_say_the_country_whose_law_applies() -> None:
    works = two_customers()
    plan = PLAN.replace('name = "Clinic"}', 'name = "Clinic", country = "CH"}')
    works.plan(plan)
    data = customer_data(works.store, ["H48"])
    made = customer_report(data, Question(), "cracks", 0)
    assert {notice.customer: notice.country for notice in made.notices} == {
        "CLINIC": "CH",
        "HOSPITAL": "",
    }
    clinic, hospital = text_of(print_customers(made))
    assert re.search(r"country\s+CH", clinic)
    assert "country" not in hospital
    table = customer_table(made)
    at = [column.name for column in table.columns].index("customer_country")
    assert {(row[0], row[at]) for row in table.rows} == {("CLINIC", "CH"), ("HOSPITAL", "")}
