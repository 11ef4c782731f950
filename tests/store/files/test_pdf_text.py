"""Reading PDFs: the usual, the scanned, and those that mean harm."""

from __future__ import annotations

import subprocess
import time
import zlib
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lotkin.core.certificates import read_certificate
from lotkin.core.errors import BadFile
from lotkin.store.files.pdf_text import PATIENCE, lines_of_pdf
from lotkin.store.files.pdf_words import MOST_CHARACTERS, MOST_PAGES, words_of_pdf
from tests.certificate_pdfs import (
    STEEL,
    certificate_pdf,
    encrypted_pdf,
    many_pages,
    picture_pdf,
    turned_pdf,
)


def pdf_of(*objects: bytes, trailer: bytes = b"") -> bytes:
    """Put a PDF together of numbered objects, the first of which is the catalogue."""
    out = b"%PDF-1.7\n"
    places = []
    for number, body in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj\n%b\nendobj\n" % (number, body)
    start = len(out)
    out += b"xref\n0 %d\n0000000000 65535 f \n" % (len(objects) + 1)
    out += b"".join(b"%010d 00000 n \n" % place for place in places)
    out += b"trailer\n<</Size %d/Root 1 0 R%b>>\n" % (len(objects) + 1, trailer)
    return out + b"startxref\n%d\n%%%%EOF\n" % start


def stream(content: bytes, filters: bytes = b"") -> bytes:
    return b"<</Length %d%b>>\nstream\n%b\nendstream" % (len(content), filters, content)


CATALOGUE = b"<</Type/Catalog/Pages 2 0 R>>"
PAGES = b"<</Type/Pages/Kids[3 0 R]/Count 1>>"
PAGE = (
    b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 600 800]/Contents 4 0 R"
    b"/Resources<</Font<</F1 5 0 R>>/XObject<</X 6 0 R>>>>>>"
)
FONT = b"<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>"


def bomb(layers: int, block: bytes, times: int) -> bytes:
    """Make a page whose content is small until it is inflated, again and again."""
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    packed = packer.compress(block) + packer.flush(zlib.Z_FULL_FLUSH)
    # a block that begins anew can be repeated without ever being there in full
    content = b"\x78\x9c" + packed * times + b"\x03\x00" + b"\0\0\0\0"
    for _ in range(layers - 1):
        content = zlib.compress(content, 9)
    filters = b"/Filter[" + b"/FlateDecode " * layers + b"]"
    return pdf_of(CATALOGUE, PAGES, PAGE, stream(content, filters), FONT)


TEXT = b"BT /F1 9 Tf 1 0 0 1 9 9 Tm (x) Tj ET\n" * 20_000
EIGHT_GB_OF_TEXT = 11_000
EIGHT_GB_OF_BLANKS = 8_000


def test_a_certificate_is_read_with_all_its_values() -> None:
    reading = read_certificate(lines_of_pdf(certificate_pdf(), "c.pdf"))

    assert reading.certificate_type is not None
    assert reading.certificate_type.value == "3.1"
    assert [heat.value for heat in reading.heats] == ["48213"]
    assert [grade.value for grade in reading.grades] == ["11SMnPb30"]
    assert {e: str(v) for e, v in reading.composition_of("48213").items()} == STEEL
    results = {n: [str(v) for v in vs] for n, vs in reading.results_of("48213").items()}
    assert results == {"Rm": ["560"], "Rp0.2": ["470"], "A": ["9.5"]}


def test_an_empty_cell_of_a_drawn_table_stays_empty() -> None:
    pdf = certificate_pdf(composition={**STEEL, "Si": "", "P": ""})
    found = read_certificate(lines_of_pdf(pdf, "c.pdf")).composition_of("48213")
    assert {e: str(v) for e, v in found.items()} == {
        "C": "0.08",
        "Mn": "1.05",
        "S": "0.29",
        "Pb": "0.27",
    }


def test_a_scanned_page_has_no_text_and_is_no_error() -> None:
    assert lines_of_pdf(picture_pdf(), "scan.pdf") == []


def test_a_document_that_only_may_not_be_printed_is_read() -> None:
    (line,) = lines_of_pdf(encrypted_pdf(""), "c.pdf")
    assert line.text == "Heat No. 48213"


@pytest.mark.parametrize("degrees", [0, 90, 180, 270])
def test_a_page_that_lies_on_its_side_is_read_as_it_is_looked_at(degrees: int) -> None:
    (first, second) = lines_of_pdf(turned_pdf(degrees), "c.pdf")
    assert (first.text, second.text) == ("C Si Mn", "0.08 0.02 1.05")
    assert first.words[0].left < first.words[1].left


def test_an_encrypted_document_is_told() -> None:
    with pytest.raises(BadFile) as refused:
        lines_of_pdf(encrypted_pdf("secret"), "c.pdf")
    assert refused.value.message == "c.pdf: is encrypted"
    assert "without a password" in refused.value.hint


@pytest.mark.parametrize(
    "content",
    [b"%PDF-1.4\nnothing more", certificate_pdf()[:200], pdf_of(b"<</Type/Catalog>>"), b"\0" * 999],
    ids=["no objects", "cut off", "no pages", "zeros"],
)
def test_a_broken_document_is_told(content: bytes) -> None:
    with pytest.raises(BadFile, match=r"c\.pdf: is no whole PDF"):
        lines_of_pdf(content, "c.pdf")


def test_of_many_pages_the_first_are_read() -> None:
    lines = lines_of_pdf(many_pages(200), "c.pdf")
    assert max(line.page for line in lines) <= MOST_PAGES
    assert sum(len(line.text) for line in lines) <= MOST_CHARACTERS


LOOP = pdf_of(
    CATALOGUE,
    b"<</Type/Pages/Kids[2 0 R 3 0 R]/Count 2000000000>>",
    PAGE,
    stream(b"/X Do"),
    FONT,
    stream(
        b"/X Do /X Do",
        b"/Type/XObject/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</X 6 0 R>>>>",
    ),
)


def outcome(content: bytes) -> tuple[int, str]:
    """Give how many characters are read, and why none could be."""
    try:
        lines = lines_of_pdf(content, "c.pdf")
    except BadFile as refused:
        return 0, refused.message
    read_certificate(lines)
    return sum(len(line.text) for line in lines), ""


@pytest.mark.parametrize(
    "content",
    [
        bomb(1, TEXT, EIGHT_GB_OF_TEXT),
        bomb(2, TEXT, EIGHT_GB_OF_TEXT),
        bomb(2, b" " * 1_000_000, EIGHT_GB_OF_BLANKS),
        LOOP,
        pdf_of(CATALOGUE, PAGES, PAGE, stream(b"[" * 1_000_000), FONT),
        pdf_of(CATALOGUE, PAGES, PAGE, stream(b"q " * 2_000_000), FONT),
        b"%PDF-1.7\n1 0 obj\n" + b"<</A" * 500_000,
    ],
    ids=[
        "bomb",
        "nested bomb",
        "empty bomb",
        "loop",
        "deep array",
        "deep states",
        "deep dictionary",
    ],
)
def test_a_document_that_means_harm_ends_in_time(content: bytes) -> None:
    begun = time.monotonic()
    length, why = outcome(content)
    assert length <= MOST_CHARACTERS
    assert why in ("", "c.pdf: is no whole PDF", "c.pdf: takes too much time or memory to read")
    assert time.monotonic() - begun < PATIENCE + 5


def test_a_bomb_is_told_as_what_it_is() -> None:
    content = bomb(2, TEXT, EIGHT_GB_OF_TEXT)
    assert len(content) < 50_000
    assert outcome(content) == (0, "c.pdf: takes too much time or memory to read")


def test_a_reader_that_does_not_end_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    def endless(program: list[str], **more: object) -> object:
        raise subprocess.TimeoutExpired(program, PATIENCE)

    monkeypatch.setattr(subprocess, "run", endless)
    with pytest.raises(BadFile, match="takes too much time or memory to read"):
        lines_of_pdf(certificate_pdf(), "c.pdf")


WHOLE = certificate_pdf()


@settings(max_examples=15)
@given(
    place=st.integers(0, len(WHOLE) - 1),
    put=st.binary(max_size=40),
    cut=st.integers(0, 400),
)
def test_a_damaged_document_is_read_or_refused(place: int, put: bytes, cut: int) -> None:
    length, why = outcome(WHOLE[:place] + put + WHOLE[place + cut :])
    assert length <= MOST_CHARACTERS
    assert length == 0 or why == ""


def test_a_page_is_words_where_they_stand() -> None:
    # in this process, where what fails is seen
    (page,) = words_of_pdf(encrypted_pdf(""))
    assert [word[0] for word in page] == ["Heat", "No.", "48213"]
    for (_, left, right, low, high), (_, after, *_rest) in pairwise(page):
        assert 72 <= left < right < after
        assert low <= 720 < high
