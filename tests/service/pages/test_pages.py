"""The pages on the demo works, as quality sees them; and on an empty store."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import pypdfium2  # type: ignore[import-untyped]
import pytest

from tests.service.pages.test_sign_in import client

if TYPE_CHECKING:
    from fastapi.testclient import TestClient

    from tests.service.conftest import As

EMPTY_PAGES = (
    "/", "/contain", "/cases", "/compare", "/dispersion", "/complaint", "/cause", "/audit",
    "/drills", "/station", "/goods-in", "/print",
)  # fmt: skip


@pytest.fixture
def quality(demo_as: As) -> TestClient:
    return demo_as("quality", person="quinn")


@pytest.mark.parametrize("path", EMPTY_PAGES)
def test_an_empty_store_has_pages_too(client_as: As, path: str) -> None:
    assert client_as("quality").get(path).status_code == 200


def test_what_was_scanned_leads_to_its_page(quality: TestClient) -> None:
    answer = quality.get("/find", params={"q": "ANO-009"}, follow_redirects=False)
    assert answer.headers["location"] == "/i/ANO-009"


def test_the_address_on_a_label_leads_to_its_page(quality: TestClient) -> None:
    answer = quality.get("/I/ANO-009")
    assert answer.status_code == 200
    assert "ANO-009" in answer.text


def test_what_is_not_known_is_said_with_the_nearest(quality: TestClient) -> None:
    answer = quality.get("/find", params={"q": "ANO-0099"})
    assert answer.status_code == 404
    assert "ANO-009" in answer.text


@pytest.mark.parametrize("way", ["used", "from"])
def test_an_item_shows_both_ways(quality: TestClient, way: str) -> None:
    text = quality.get("/i/ANO-009", params={"way": way}).text
    assert ("DP40-" in text) == (way == "used")


def test_a_long_answer_comes_in_parts(quality: TestClient) -> None:
    first = quality.get("/i/POWDER-001", params={"way": "used"}).text
    assert "Next" in first
    second = quality.get("/i/POWDER-001", params={"way": "used", "page": 2}).text
    assert "Before" in second


def test_the_containment_is_that_of_the_command(quality: TestClient) -> None:
    text = quality.get("/contain", params={"code": "ANO-009"}).text
    assert "<b>57</b>units suspect" in text
    assert "Account of 59 pcs" in text
    assert "✓ 59 of 59 pcs accounted for" in text
    assert "57 units = " in text


def test_an_account_that_does_not_add_up_is_no_good_sign_on_a_page(quality: TestClient) -> None:
    text = quality.get("/contain", params={"code": "MIX-022"}).text
    assert "✕ does not add up: 14 pcs more were used than were made" in text
    assert "accounted for" not in text
    assert "exactly" not in text


def test_amounts_on_a_page_keep_their_unit_and_never_round_to_nothing(quality: TestClient) -> None:
    text = quality.get("/contain", params={"code": "POWDER-001"}).text
    assert "less than 1 g" in text
    assert ">0.0<" not in text
    assert ">0 kg<" not in text


def test_a_case_is_opened_decided_and_closed(quality: TestClient) -> None:
    new = {"code": "DP40-0404", "reason": "leaks at the head"}
    page = quality.post("/contain", data=new)
    case = page.url.path
    assert case.startswith("/cases/CASE-")
    early = quality.post(f"{case}/close", data={"reason": "done"})
    assert early.status_code == 409
    members = [part.split('"')[0] for part in page.text.split('name="member" value="')[1:]]
    assert members
    decision = {"decision": "recall", "reason": "it leaks", "member": members}
    assert quality.post(f"{case}/decisions", data=decision).status_code == 200
    closed = quality.post(f"{case}/close", data={"reason": "taken back"})
    assert "closed" in closed.text
    assert closed.status_code == 200


def test_a_decision_that_is_none_is_said_and_records_nothing(quality: TestClient) -> None:
    page = quality.post("/contain", data={"code": "DP40-0404", "reason": "leaks"})
    wrong = {"decision": "eat", "reason": "hungry", "member": "DP40-0404"}
    answer = quality.post(f"{page.url.path}/decisions", data=wrong)
    assert answer.status_code == 422
    assert "is none of those" in answer.text


def test_scopes_stand_side_by_side(quality: TestClient) -> None:
    text = quality.get("/compare", params={"scopes": "ANO-009\nT-0044-30, T-0045-30"}).text
    assert 'href="/contain?code=ANO-009"' in text
    assert 'data-name="Suspect" class="number">57' in text
    assert quality.get("/compare", params={"scopes": "NO-SUCH"}).status_code == 404


def test_the_lots_whose_recall_takes_most_come_first(quality: TestClient) -> None:
    text = quality.get("/dispersion").text
    counts = [
        int(part.split("<")[0]) for part in text.split('data-name="Units" class="number">')[1:]
    ]
    assert counts == sorted(counts, reverse=True)
    assert counts[0] > 0


def test_a_complaint_shows_parts_tests_and_who_else(quality: TestClient) -> None:
    text = quality.get("/complaint", params={"serial": "DP40-0404"}).text
    assert "passed" in text
    assert "Units that have it" in text


def test_a_drill_is_done_and_listed(quality: TestClient) -> None:
    answer = quality.post("/drills", data={"code": "ANO-009"})
    assert answer.url.path == "/drills"
    assert "ANO-009" in answer.text


def test_a_picture_can_be_kept(quality: TestClient) -> None:
    answer = quality.get("/picture.svg", params={"code": "ANO-009"})
    assert answer.headers["content-type"].startswith("image/svg+xml")
    assert answer.text.startswith("<svg")
    assert "possible" in answer.text


def test_a_box_that_stands_for_many_can_be_opened(quality: TestClient) -> None:
    closed = quality.get("/i/BILLET-004", params={"way": "used"}).text
    assert "apart=unit" in closed
    assert " x unit" in closed
    batch = quality.get("/i/ANO-009", params={"way": "used"}).text
    opened = quality.get("/i/ANO-009", params={"way": "used", "apart": "unit"}).text
    assert opened.count("<rect") >= batch.count("<rect")


def test_the_way_back_has_a_picture_too(quality: TestClient) -> None:
    answer = quality.get("/picture.svg", params={"code": "DP40-0404", "way": "from"})
    assert "heat" in answer.text


@pytest.mark.parametrize(
    "path",
    [
        "/print/label.pdf?code=ANO-009",
        "/print/containment.pdf?code=ANO-009",
        "/print/unit.pdf?code=DP40-0404",
        "/print/cards.pdf",
        "/print/dispatch-note.pdf?code=ANO-009",
        "/print/traveller.pdf?code=T-0045",
    ],
)
def test_paper_comes_from_pages(quality: TestClient, path: str) -> None:
    answer = quality.get(path)
    assert answer.status_code == 200
    assert len(pypdfium2.PdfDocument(io.BytesIO(answer.content))) >= 1


def test_a_traveller_is_issued_and_printed(quality: TestClient) -> None:
    assert "HEAD" in quality.get("/print").text
    answer = quality.post("/print/traveller.pdf", data={"part": "HEAD", "quantity": "12"})
    assert len(pypdfium2.PdfDocument(io.BytesIO(answer.content))) >= 1
    name = answer.headers["content-disposition"].split('"')[1].removesuffix(".pdf")
    assert quality.get("/print/traveller.pdf", params={"code": name}).status_code == 200
    wrong = quality.post("/print/traveller.pdf", data={"part": "HEAD", "quantity": "-1"})
    assert wrong.status_code == 422


@pytest.mark.parametrize("code", ["<script>alert(1)</script>", "'; DROP TABLE item; --", "\u202e"])
def test_hostile_codes_are_shown_and_not_run(quality: TestClient, code: str) -> None:
    for path in ("/find?q=", "/contain?code=", "/complaint?serial=", "/cause?code="):
        answer = quality.get(path.split("?")[0], params={path.split("?")[1][:-1]: code})
        assert answer.status_code in (404, 409, 422)
        assert "<script>alert" not in answer.text


def test_nothing_in_a_page_runs_in_line() -> None:
    from lotkin_service.form.rendering import HERE

    for template in (HERE / "templates").rglob("*.html"):
        text = template.read_text(encoding="utf-8")
        assert "style=" not in text, template
        assert " on" not in [part[:3] for part in text.split("<")[1:] if part.startswith("on")]
        assert "<script>" not in text, template


def test_nobody_sees_anything_before_signing_in(demo_db: str) -> None:
    from lotkin_service.app import make_app
    from lotkin_service.settings import ServiceSettings

    app = make_app(ServiceSettings(demo_db))
    for path in ("/i/ANO-009", "/contain?code=ANO-009", "/print/unit.pdf?code=DP40-0404"):
        assert client(app).get(path).status_code == 303
    app.state.works.close()


def test_a_decision_is_for_all_of_a_kind_or_for_a_quantity_of_one(demo_as: As) -> None:
    quality = demo_as("quality", person="quinn")
    asked = {"code": "T-0045-30", "reason": "coating too thin"}
    page = quality.post("/contain", data=asked)
    case = page.url.path.rsplit("/", 1)[-1]
    before = quality.get(f"/api/v1/cases/{case}").json()["undecided_members"]
    kinds = {code: quality.get(f"/api/v1/items/{code}").json()["item"]["kind"] for code in before}
    kind = min(kinds.values())

    decision = {"decision": "scrap", "reason": "flakes"}
    path = f"/cases/{case}/decisions"
    assert quality.post(path, data=decision | {"kind": kind}).status_code == 200
    after = quality.get(f"/api/v1/cases/{case}").json()["undecided_members"]
    assert set(after) == {code for code in before if kinds[code] != kind}
    two = {"member": after[:2], "quantity": "1"}
    assert quality.post(path, data=decision | two).status_code == 422
    assert quality.post(path, data=decision).status_code == 422
