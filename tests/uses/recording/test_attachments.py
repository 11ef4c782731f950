"""Attached files: what they are is told by their content, what they are called is only shown."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.errors import BadFile
from lotkin.core.events.material.delivered import Document
from lotkin.uses.recording.attachments import (
    LARGEST,
    MOST,
    Attachment,
    media_type_of,
    plain_file_name,
    read_attachment,
    read_papers,
)
from tests.certificate_pdfs import certificate_pdf, encrypted_pdf
from tests.goods_in import PICTURE, Keeper


@pytest.mark.parametrize(
    ("content", "media_type"),
    [
        (certificate_pdf(), "application/pdf"),
        (b"\n\n%PDF-1.4", "application/pdf"),
        (PICTURE, "image/jpeg"),
        (b"\x89PNG\r\n\x1a\n...", "image/png"),
        (b"II*\x00...", "image/tiff"),
        (b"RIFF\x10\x00\x00\x00WEBPVP8 ", "image/webp"),
        (b"\x00\x00\x00\x18ftypheic....", "image/heic"),
        (b"<svg xmlns='x'><script/></svg>", ""),
        (b"<html>", ""),
        (b"PK\x03\x04", ""),
        (b"MZ\x90", ""),
        (b"x" * 2000 + b"%PDF-1.4", ""),
        (b"", ""),
    ],
)
def test_a_file_is_what_its_content_says(content: bytes, media_type: str) -> None:
    assert media_type_of(content) == media_type


@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("certificate 48213.pdf", "certificate 48213.pdf"),
        ("../../etc/passwd", "passwd"),
        ("C:\\mill\\c.pdf", "c.pdf"),
        ("c\u202efdp.exe", "cfdp.exe"),
        ("a\x00b\x1b[31m.pdf", "ab[31m.pdf"),
        ("two\nlines\t.pdf", "two lines .pdf"),
        ("..", "document"),
        ("", "document"),
        ("\udcff\udcfe.pdf", "pdf"),
        ("Pru\u0308fung.pdf", "Pr\u00fcfung.pdf"),
        ("x" * 300 + ".pdf", "x" * 141 + ".pdf"),
        ("x" * 300, "x" * 150),
    ],
)
def test_a_name_is_made_fit_to_be_shown(name: str, shown: str) -> None:
    assert plain_file_name(name) == shown


@given(st.text(st.characters(exclude_categories=[]), max_size=400))
def test_any_name_can_be_kept_in_an_event(name: str) -> None:
    shown = plain_file_name(name)
    assert shown.isprintable()
    assert not set(shown) & set("/\\")
    document = Document(sha256="0" * 64, name=shown, media_type="image/png", size=1)
    assert document.name == shown
    shown.encode("utf-8")


def looked_at(*contents: bytes) -> list[str]:
    given = [Attachment(f"c{number}.pdf", content) for number, content in enumerate(contents)]
    return [paper.name for paper in read_papers(Keeper(), given)]


def test_the_same_content_counts_once() -> None:
    assert looked_at(PICTURE, certificate_pdf(), PICTURE) == ["c0.pdf", "c1.pdf"]


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b"", "c0.pdf: is empty"),
        (b"hello", "c0.pdf: is neither a PDF nor a picture"),
        (PICTURE + bytes(LARGEST), "c0.pdf: is larger than 32 MiB"),
        (encrypted_pdf("secret"), "c0.pdf: is encrypted"),
        (b"%PDF-1.4", "c0.pdf: is no whole PDF"),
    ],
    ids=lambda value: value[:20] if isinstance(value, bytes) else None,
)
def test_what_cannot_be_attached_is_told_with_what_to_do(content: bytes, why: str) -> None:
    with pytest.raises(BadFile) as refused:
        looked_at(content)
    assert refused.value.message == why
    assert refused.value.hint


def test_too_many_are_told() -> None:
    with pytest.raises(BadFile, match="is one too many: a delivery has at most 20 documents"):
        looked_at(*(PICTURE + bytes([number]) for number in range(MOST + 1)))


def test_too_much_together_is_told_before_the_rest_is_read() -> None:
    def given() -> Iterator[Attachment]:
        for number in range(3):
            yield Attachment(f"c{number}.jpg", PICTURE + bytes([number]) * (LARGEST - 100))
        raise AssertionError

    with pytest.raises(BadFile, match=r"c2\.jpg: makes them more than 64 MiB together"):
        read_papers(Keeper(), given())


def test_a_file_is_read_by_its_path(tmp_path: Path) -> None:
    path = tmp_path / "photo of it.jpg"
    path.write_bytes(PICTURE)
    assert read_attachment(path) == Attachment("photo of it.jpg", PICTURE)


@pytest.mark.parametrize("name", ["none.pdf", "", "x" * 5000, "a\0b"])
def test_a_path_that_leads_to_no_file_is_told(tmp_path: Path, name: str) -> None:
    with pytest.raises(BadFile):
        read_attachment(tmp_path / name)


@pytest.mark.skipif(os.name == "nt", reason="there are none there")
@pytest.mark.parametrize("path", ["pipe", "/dev/zero"])
def test_a_pipe_or_a_device_is_not_read(tmp_path: Path, path: str) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(BadFile, match="is no file"):
        read_attachment(tmp_path / path)


def test_no_more_of_a_file_is_read_than_can_be_kept(tmp_path: Path) -> None:
    path = tmp_path / "huge"
    with path.open("wb") as file:
        file.truncate(LARGEST * 100)
    assert len(read_attachment(path).content) == LARGEST + 1
