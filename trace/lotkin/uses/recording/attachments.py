"""Files attached to a delivery: what they are, whatever they are called."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from lotkin.core.certificates import CertificateReading, read_certificate
from lotkin.core.errors import BadFile

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from lotkin.core.certificates import Line

__all__ = [
    "LARGEST",
    "LARGEST_TOGETHER",
    "MOST",
    "Attachment",
    "KeepsDocuments",
    "Paper",
    "media_type_of",
    "plain_file_name",
    "read_attachment",
    "read_papers",
]

MIB = 1024**2
LARGEST = 32 * MIB
"""Bytes of one document; a scan of some pages in colour is a fraction of that."""

MOST = 20
"""Documents of one delivery."""

LARGEST_TOGETHER = 2 * LARGEST
"""Bytes of all of them."""

LONGEST_NAME = 150
PDF = "application/pdf"
PDF_BEGINS_WITHIN = 1024
"""Bytes that may stand before a PDF; readers take so many (ISO 32000-1, annex H, from memory)."""

BEGINNINGS = (
    (b"\xff\xd8\xff", "image/jpeg"),
    (b"\x89PNG\r\n\x1a\n", "image/png"),
    (b"II*\x00", "image/tiff"),
    (b"MM\x00*", "image/tiff"),
)
HEIC_BRANDS = frozenset({b"heic", b"heix", b"heim", b"hevc", b"mif1"})


class KeepsDocuments(Protocol):
    """A place that keeps documents under the hash of their content."""

    def put(self, content: bytes) -> str:
        """Keep a document; give its SHA-256."""

    def read_text(self, content: bytes, name: str) -> list[Line]:
        """Read the lines of a PDF."""


@dataclass(frozen=True, slots=True)
class Attachment:
    """A file as it was given.

    Attributes:
        name: Whatever it was called.
        content: All of it.
    """

    name: str
    content: bytes


@dataclass(frozen=True, slots=True)
class Paper:
    """A file that was looked at.

    Attributes:
        name: Fit to be kept and shown: no path, no control characters.
        content: All of it.
        media_type: By its content.
        reading: What it seems to say; None for a picture.
    """

    name: str
    content: bytes
    media_type: str
    reading: CertificateReading | None


def read_attachment(path: Path) -> Attachment:
    """Read a file that a user names.

    Raises:
        BadFile: It is missing, no file, or too large.
    """
    try:
        if not path.is_file():
            why = "is no file" if path.exists() else "there is no such file"
            raise BadFile(str(path), why, hint="check the name")
        with path.open("rb") as file:
            content = file.read(LARGEST + 1)
    except OSError as error:
        raise BadFile(str(path), f"cannot be read: {error.strerror or error}") from error
    except ValueError:
        raise BadFile(str(path)[:200], "is no name of a file") from None
    return Attachment(path.name, content)


def read_papers(keeper: KeepsDocuments, attachments: Iterable[Attachment]) -> list[Paper]:
    """Look at attached files; the same content twice counts once.

    Args:
        keeper: Reads PDFs.
        attachments: Taken one by one, so that too many are never in memory.

    Raises:
        BadFile: One is empty, too large, of no known kind, or a PDF that cannot be read; or they
            are too many.
    """
    papers: dict[bytes, Paper] = {}
    size = 0
    for number, given in enumerate(attachments):
        name = plain_file_name(given.name)
        size += len(given.content)
        if number >= MOST:
            raise BadFile(name, f"is one too many: a delivery has at most {MOST} documents")
        if number and size > LARGEST_TOGETHER:
            raise BadFile(name, f"makes them more than {LARGEST_TOGETHER // MIB} MiB together")
        if given.content not in papers:
            papers[given.content] = _read(keeper, name, given.content)
    return list(papers.values())


def _read(keeper: KeepsDocuments, name: str, content: bytes) -> Paper:
    if not content:
        raise BadFile(name, "is empty", hint="save it again")
    if len(content) > LARGEST:
        raise BadFile(
            name, f"is larger than {LARGEST // MIB} MiB", hint="scan it at less resolution"
        )
    media_type = media_type_of(content)
    if not media_type:
        raise BadFile(
            name, "is neither a PDF nor a picture", hint="attach PDF, JPEG, PNG, TIFF, WebP or HEIC"
        )
    if media_type != PDF:
        return Paper(name, content, media_type, None)
    return Paper(name, content, media_type, read_certificate(keeper.read_text(content, name)))


def media_type_of(content: bytes) -> str:
    """Tell what a file is by how it begins; "" if it is nothing that can be attached."""
    for beginning, media_type in BEGINNINGS:
        if content.startswith(beginning):
            return media_type
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        return "image/webp"
    if content[4:8] == b"ftyp" and content[8:12] in HEIC_BRANDS:
        return "image/heic"
    return PDF if b"%PDF-" in content[:PDF_BEGINS_WITHIN] else ""


def plain_file_name(name: str) -> str:
    r"""Make the name of a file fit to be kept and shown; never is it used as a path.

    Example:
        >>> plain_file_name("..\\mill/\x1b[2Jcert\u202efdp.exe ")
        '[2Jcertfdp.exe'
        >>> plain_file_name("../")
        'document'
    """
    last = re.split(r"[\\/]", name.rstrip("\\/ "))[-1][:1000]
    shown = "".join(c if c.isprintable() else " " * c.isspace() for c in last)
    text = " ".join(unicodedata.normalize("NFC", shown).split()).strip(" .")
    if len(text) > LONGEST_NAME:
        stem, dot, end = text.rpartition(".")
        keeps_end = dot and 0 < len(end) <= 8
        text = f"{stem[: LONGEST_NAME - 9]}.{end}" if keeps_end else text[:LONGEST_NAME]
    return text or "document"
