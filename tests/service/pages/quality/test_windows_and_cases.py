"""What the pages say of a time that meets nothing, of what to stop, and of cases."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.service.conftest import As


def test_a_span_that_nothing_overlaps_is_never_answered_with_zeros(demo_as: As) -> None:
    span = {"code": "ANO-009", "from": "2025-08-01T00:00"}
    answer = demo_as("quality", person="ROS").get("/contain", params=span)

    # the batch was away from 30 June to 8 July; the works are two hours ahead of UTC in summer
    assert "no run of ANO-009 overlaps the time from 2025-08-01 00:00:00+02:00" in answer.text
    assert "units suspect" not in answer.text
    assert "Nothing is on hand" not in answer.text
    assert "UTC" not in answer.text


def test_a_span_inside_the_time_that_a_batch_was_away_takes_it_in(demo_as: As) -> None:
    span = {"code": "ANO-009", "from": "2025-07-03T00:00", "to": "2025-07-04T00:00"}
    answer = demo_as("quality", person="ROS").get("/contain", params=span)
    assert "<b>57</b>units suspect" in answer.text


def test_packed_pumps_stand_first_in_what_to_stop(demo_as: As) -> None:
    text = demo_as("quality", person="ROS").get("/contain", params={"code": "POWDER-006"}).text
    listed = text.split("Stop this first")[1]
    assert "☐ PACK (Packing)" in listed[: listed.index("POWDER-006")]
    assert "Units that hang on it" not in text


def test_parts_that_were_taken_out_are_marked_on_the_complaint(demo_as: As) -> None:
    page = demo_as("quality", person="ROS").get("/complaint", params={"serial": "DP40-0404"})
    assert page.text.count("no longer in it") == 2
    assert "shipped to MORLANGES" in page.text


def test_the_code_of_a_case_leads_to_its_page(demo_as: As) -> None:
    answer = demo_as("quality", person="ROS").get(
        "/find", params={"q": "CASE-001"}, follow_redirects=False
    )
    assert answer.headers["location"] == "/cases/CASE-001"


def test_a_customer_is_never_said_to_be_not_recorded(demo_as: As) -> None:
    answer = demo_as("quality", person="ROS").get("/find", params={"q": "OSTRELL"})
    assert "is a customer of the plan" in answer.text
    assert "receive it first" not in answer.text


def test_the_interface_shows_a_case_under_its_code(demo_as: As) -> None:
    client = demo_as("quality", person="ROS")
    by_item = client.get("/api/v1/items/CASE-001")

    assert by_item.status_code == 200
    assert by_item.json() == client.get("/api/v1/cases/CASE-001").json()
    assert by_item.json()["case"] == "CASE-001"
    assert client.get("/api/v1/items/STORE").status_code == 404


def test_any_scan_of_a_case_leads_to_its_page(demo_as: As) -> None:
    client = demo_as("quality", person="ROS")
    for text in ("case-001", " CASE-001 ", "HTTPS://WORKS.EXAMPLE/I/CASE-001"):
        answer = client.get("/find", params={"q": text}, follow_redirects=False)
        assert answer.headers["location"] == "/cases/CASE-001"


def test_the_interface_names_what_a_span_leaves_out(demo_as: As) -> None:
    client = demo_as("quality", person="ROS")
    # the batch was away from 30 June to 8 July; the other was sent later
    asked = {"code": ["ANO-009", "ANO-001"], "from": "2025-07-03T00:00:00Z",
             "to": "2025-07-04T00:00:00Z"}  # fmt: skip
    for route in ("hold-first", "next-question"):
        (left_out,) = client.get(f"/api/v1/{route}", params=asked).json()["outside_the_time"]
        assert left_out["code"] == "ANO-001"


def test_certificates_on_the_complaint_say_whether_their_lot_is_in_it(demo_as: As) -> None:
    client = demo_as("quality", person="ROS")
    page = client.get("/complaint", params={"serial": "DP40-0404"}).text
    papers = page.split("Certificates and documents")[1].split("<h2>")[0]
    document = client.get("/api/v1/items/DP40-0404/complaint").json()["papers"]

    gone = [paper["code"] for paper in document if paper["removed"]]
    assert gone
    assert papers.count("no longer") == len(gone)
