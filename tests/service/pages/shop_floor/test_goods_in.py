"""The page of goods-in: label, certificate, confirmation, record."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.certificate_pdfs import certificate_pdf
from tests.scanning.station import BAR_LABEL
from tests.service.conftest import signed_in_as

if TYPE_CHECKING:
    from fastapi import FastAPI
    from fastapi.testclient import TestClient


@pytest.fixture
def goods_in(planned_app: FastAPI) -> TestClient:
    return signed_in_as(planned_app, "ida", "receiving")


def test_a_label_fills_the_form(goods_in: TestClient) -> None:
    text = goods_in.post("/goods-in", data={"label": BAR_LABEL, "do": "read"}).text
    for said in ("BAR-8", "NORD", "H4711", "30"):
        assert f'value="{said}"' in text
    assert "Still needed: place" in text


def test_what_is_complete_is_read_back_and_recorded_once(goods_in: TestClient) -> None:
    form = {"part": "BLANK", "supplier": "NORD", "source_lot": "L-8", "quantity": "25"}
    form |= {"place": "STORE", "do": "read"}
    page = goods_in.post("/goods-in", data=form).text
    assert "Is this what came?" in page
    number = page.split('name="id" value="')[1].split('"')[0]
    first = goods_in.post("/goods-in", data={**form, "id": number, "do": "record"})
    again = goods_in.post("/goods-in", data={**form, "id": number, "do": "record"})
    code = first.text.split('href="/i/')[1].split('"')[0]
    assert f'href="/i/{code}"' in again.text
    assert goods_in.get(f"/i/{code}").status_code == 200


def test_what_cannot_be_read_is_said_at_its_field(goods_in: TestClient) -> None:
    text = goods_in.post("/goods-in", data={"part": "BLANK", "quantity": "many"}).text
    assert "is no number" in text


def test_a_certificate_stands_beside_what_it_says(goods_in: TestClient) -> None:
    content = certificate_pdf()
    files = {"papers": ("mill.pdf", content, "application/pdf")}
    page = goods_in.post("/goods-in", data={"part": "BAR-8", "do": "read"}, files=files).text
    sha256 = page.split('name="paper" value="')[1].split(" ")[0]
    assert goods_in.get(f"/api/v1/documents/{sha256}").content == content
    assert "mill.pdf reads" in page


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("evil.pdf", b"MZ not a pdf"),
        ("../../x.pdf", b""),
        ("a.png", b"\x89PNG\r\n\x1a\n" + b"x" * 50),
    ],
)
def test_a_hostile_upload_is_refused_or_only_kept(
    goods_in: TestClient, name: str, content: bytes
) -> None:
    files = {"papers": (name, content, "application/pdf")}
    answer = goods_in.post("/goods-in", data={"do": "read"}, files=files)
    assert answer.status_code in (200, 422)
    assert ".." not in answer.text


def test_a_hash_that_is_none_is_refused(goods_in: TestClient) -> None:
    answer = goods_in.post("/goods-in", data={"paper": "../../etc/passwd x", "do": "read"})
    assert answer.status_code == 422


def test_a_label_as_a_scanner_types_it_keeps_its_separators(goods_in: TestClient) -> None:
    text = goods_in.post("/goods-in", data={"label": f"{BAR_LABEL}\r", "do": "read"}).text
    assert 'value="H4711"' in text
    assert 'src="/static/goods-in.js"' in text
    script = goods_in.get("/static/goods-in.js").text
    assert "keepControls" in script
    assert "]" in goods_in.get("/static/station/wedge.js").text


def test_a_damaged_label_is_put_into_no_field(goods_in: TestClient) -> None:
    damaged = "\u00dc=:06PBAR\u00dfCW614N1T48213"
    text = goods_in.post("/goods-in", data={"label": damaged, "do": "read"}).text
    assert "set the scanner to the language of this keyboard" in text
    assert f'name="source_lot" value="{damaged}"' not in text


def test_the_box_on_the_page_names_whoever_is_signed_in(goods_in: TestClient) -> None:
    form = {"part": "BLANK", "supplier": "NORD", "source_lot": "L-8", "quantity": "25"}
    form |= {"place": "STORE", "do": "read", "compared": "yes", "compared_by": "somebody"}
    page = goods_in.post("/goods-in", data=form).text
    assert "values on the certificate compared by ida" in page
