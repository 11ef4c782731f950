"""Telling whether the journal that a report was made from is still the beginning of today's."""

from __future__ import annotations

import io
import json
import re
import zipfile
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from lotkin.core.errors import BadFile

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from lotkin.core.certificates import Line
    from lotkin.uses.ports import CanRead

    class ReadsPdf(Protocol):
        """Reads the lines of a PDF."""

        def read_text(self, content: bytes, name: str) -> Sequence[Line]:
            """Read the lines."""


__all__ = ["AgainstReport", "verify_report"]

HASH = re.compile(r"(?<![0-9a-f])[0-9a-f]{64}(?![0-9a-f])")
LARGEST = 100_000_000
MOST_HASHES = 10_000


@dataclass(frozen=True, slots=True)
class AgainstReport:
    """What became of a comparison.

    Attributes:
        event: Number of the last event that the report was made from; 0 if the journal has none
            with any hash that it names.
        head: Its hash; "" for none.
        since: How many events came after it.
    """

    event: int
    head: str
    since: int

    @property
    def holds(self) -> bool:
        """Tell whether today's journal begins with that of the report."""
        return self.event > 0


def verify_report(store: CanRead, path: Path, pdf: ReadsPdf) -> AgainstReport:
    """Look for the hash that a report names among those of the journal.

    A hash stands for all events up to its own: if one of them had been changed since, no event of
    the journal would have it, as long as the journal itself verifies.

    Args:
        store: The store, which should be verified as well.
        path: A report as PDF or XLSX, a backup's manifest, or any text that names the hash.
        pdf: Reads PDF files.

    Raises:
        BadFile: It cannot be read, or names no hash.
    """
    named = _hashes(path, pdf)
    if not named:
        raise BadFile(
            str(path), "it names no hash of a last event", hint="take a PDF or XLSX report"
        )
    with store.reading() as view:
        events, _ = view.journal_head()
        found = max(
            ((row.seq, row.hash) for row in view.chain_rows() if row.hash in named), default=None
        )
    if found is None:
        return AgainstReport(0, "", 0)
    return AgainstReport(found[0], found[1], events - found[0])


def _hashes(path: Path, pdf: ReadsPdf) -> set[str]:
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST + 1)
    except OSError as error:
        raise BadFile(str(path), error.strerror or "it cannot be read") from error
    if len(content) > LARGEST:
        raise BadFile(str(path), f"it is larger than {LARGEST // 1_000_000} MB")
    if content.startswith(b"%PDF"):
        text = "\n".join(line.text for line in pdf.read_text(content, path.name))
    elif content.startswith(b"PK"):
        text = _cells(content, path)
    else:
        text = content.decode("utf-8", "replace")
    return set(HASH.findall(text)[:MOST_HASHES])


def _cells(content: bytes, path: Path) -> str:
    """Give all texts of a workbook, or the manifest of a backup."""
    parts = []
    left = LARGEST
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as book:
            for name in book.namelist():
                if name.endswith((".xml", "manifest.json")):
                    with book.open(name) as member:
                        part = member.read(left + 1)
                    left -= len(part)
                    if left < 0:
                        raise BadFile(str(path), "it takes too much to read")
                    if name == "manifest.json":
                        part = str(json.loads(part).get("head", "")).encode()
                    parts.append(part.decode("utf-8", "replace"))
    except (zipfile.BadZipFile, OSError, ValueError, RuntimeError, AttributeError) as error:
        raise BadFile(str(path), f"it is no workbook ({error})") from error
    return "\n".join(parts)
