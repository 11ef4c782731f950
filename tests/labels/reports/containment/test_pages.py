"""The containment report as PDF: nothing missing, nothing cut, pages numbered."""

from __future__ import annotations

import re

import pytest

from lotkin.uses.asking.where import Question
from lotkin_answers.words import certainty
from lotkin_labels.reports import DecisionRecord, print_containment
from lotkin_labels.reports.containment.pages import containment_pages
from tests.labels.rendering import page_sizes_mm, text_of
from tests.labels.reports.pump_works import pumps, report_on, serials
from tests.small_works import PLAN, Works


@pytest.mark.parametrize("count", [0, 1, 20])
def test_every_serial_and_all_numbers_are_in_the_report(count: int) -> None:
    report = report_on(pumps(count), "RUN-1", reason="burr in the bore")

    pages = text_of(print_containment(report))

    text = " ".join(pages)
    assert re.findall(r"PUMP-\d{4}", pages[0]) == serials(count)
    assert f"{count} units now {count} certain 0 possible {count} expected {count} at most" in text
    assert "burr in the bore" in text
    assert report.head_hash in text
    assert f"as of event {report.found.answer.as_of}" in text
    # tips that were made, in pumps and at the bench
    assert f"{2 * count + 10} of {2 * count + 10} pcs accounted for" in text
    assert "No decision is recorded." in text
    assert "for the responsible persons" in text


def test_a_long_report_numbers_its_pages_and_repeats_its_headings() -> None:
    report = report_on(pumps(700), "RUN-1")

    pages = text_of(print_containment(report))

    text = " ".join(pages)
    assert len(pages) > 2
    for number, page in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in page
        assert f"RUN-1, as of event {report.found.answer.as_of}" in page
    assert "ROOM-1 (First room) (continued)" in pages[1]
    assert set(re.findall(r"PUMP-\d{4}", text)) == set(serials(700))


def test_the_picture_lies_on_a_sheet_of_its_own() -> None:
    sizes = page_sizes_mm(print_containment(report_on(pumps(3, shipped=2), "H48")))

    # ISO 216, A4
    assert sizes[-1] == (297.0, 210.0)
    assert set(sizes[:-1]) == {(210.0, 297.0)}


def test_what_is_at_a_customer_stands_under_the_customer() -> None:
    text = text_of(print_containment(report_on(pumps(5, shipped=2), "RUN-1")))[0]

    works, customers = text.split("At customers: 2 units, 1 place")
    assert re.findall(r"PUMP-\d{4}", works) == serials(5)[2:]
    assert "CLINIC (Clinic)" in customers
    assert re.findall(r"PUMP-\d{4}", customers)[:2] == serials(2)
    assert "CARTON-1" in customers


def test_decisions_are_listed_as_they_were_taken() -> None:
    decided = DecisionRecord(
        member="PUMP-0001",
        quantity="1 pcs",
        decision="scrap",
        person="Quinn",
        reason="bore out of round",
        decided_on="2026-03-04",
    )
    text = text_of(print_containment(report_on(pumps(1), "RUN-1", decisions=(decided,))))[0]

    assert "PUMP-0001 1 pcs scrap Quinn bore out of round 2026-03-04" in text
    assert "No decision is recorded" not in text


def test_what_a_threshold_leaves_out_is_listed_with_its_content() -> None:
    works = Works(plan=PLAN)
    works.powder("POWDER-A", 1)
    works.powder("POWDER-B", 9)
    works.blend("BLEND-1", {"POWDER-A": 1, "POWDER-B": 9})
    report = report_on(works, "POWDER-A", question=Question(min_content=0.5))

    text = " ".join(text_of(print_containment(report)))

    assert "Left out by the threshold: 1 item" in text
    # 1 kg of 10
    assert "BLEND-1: 10 %" in text
    assert "also what this report was narrowed to leave out" in text


def test_a_chance_stands_on_paper_with_the_bounds_that_every_answer_gives() -> None:
    works = Works(plan=PLAN)
    works.bar("BAR-A", 10, heat="H48")
    works.make({"TIP-1": 20}, {"BAR-A": 5}, run="RUN-1")
    works.receive("SCREWS-1", 10)
    works.receive("SCREWS-2", 30)
    works.pool("SCREWS-3", {"SCREWS-1": 10, "SCREWS-2": 30})
    works.mount(
        {
            "P1": {"item": "TIP-1", "origin": "FLOOR", "quantity": 20},
            "P2": {"item": "SCREWS-3", "origin": "SHELF", "quantity": 40},
        }
    )
    works.build("PUMP-0001")
    report = report_on(works, "SCREWS-1")
    (unit,) = (row for row in report.found.answer.items if row.kind == "unit")

    text = " ".join(text_of(print_containment(report)))

    # two screws, each of the one lot with a chance of a quarter: 1 - (3/4)^2
    assert certainty(unit) == "possible, 44 % (25 to 50 %)"
    assert certainty(unit) in text


@pytest.mark.parametrize(
    "name",
    [
        "=HYPERLINK(1)",
        "Käserei Łódź Ελλάδα",
        "\u4f60\u597d \U0001f600",
        "עברית",
        "x" * 80,
        "<b>&amp;</b>",
    ],
)
def test_no_name_is_too_strange_for_a_report(name: str) -> None:
    plan = PLAN.replace('name = "Clinic"', f'name = "{name}"')
    document = print_containment(report_on(pumps(3, plan=plan, shipped=2), "RUN-1", reason=name))

    assert "PUMP-0002" in " ".join(text_of(document))


def test_the_same_report_gives_the_same_bytes() -> None:
    report = report_on(pumps(2), "RUN-1")

    assert print_containment(report) == print_containment(report)


def test_texts_longer_than_a_page_lose_nothing() -> None:
    words = [f"word{number}" for number in range(1500)]
    decided = DecisionRecord(
        member="PUMP-0001", decision="sort", person="Quinn", reason=" ".join(words)
    )
    report = report_on(pumps(1), "RUN-1", reason=" ".join(words), decisions=(decided,))

    pages = containment_pages(report)

    text = " ".join(text_of(print_containment(report))).replace("\ufffe", "")
    assert [word for word in words if len(re.findall(rf"\b{word}\b", text)) != 2] == []
    for page in pages:
        for mark in page.marks:
            assert mark.area.bottom <= page.height_mm - 5
            assert mark.area.right <= page.width_mm - 14.5


def test_a_report_on_many_items_lists_them_all() -> None:
    works = Works(plan=PLAN)
    codes = [f"LOT-{number:03}" for number in range(150)]
    for code in codes:
        works.receive(code, 5)

    pages = text_of(print_containment(report_on(works, *codes)))

    assert "Containment of 150 items" in pages[0]
    text = " ".join(pages)
    assert [code for code in codes if f"{code}: purchased lot" not in text] == []


def test_a_page_that_begins_in_the_middle_of_a_place_names_the_place() -> None:
    """Lots of many parts at one place, so that some page begins with another sort."""
    works = Works()
    codes = [f"LOT-{number:03}" for number in range(120)]
    for code in codes:
        works.receive(code, 5, part=f"PART-{code}")

    pages = text_of(print_containment(report_on(works, *codes)))

    inside = [page for page in pages if "purchased lot PART-" in page]
    assert len(inside) > 3
    for page in inside:
        assert "SHELF" in page.split("purchased lot PART-")[0]
