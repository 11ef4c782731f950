"""Documents beside the database: kept under the hash of their content, never changed."""

from __future__ import annotations

import hashlib
import os
import re
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING
from uuid import uuid4

from lotkin.core.errors import DocumentDamaged, DocumentMissing, DocumentsUnusable

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.certificates import Line

__all__ = ["Documents"]

NAME = re.compile(r"[0-9a-f]{64}")
READ_ONLY = 0o444


class Documents:
    """A folder of documents.

    The file of a document is named after the SHA-256 of its content (FIPS 180-4), in a folder named
    after the first two digits; names that users gave never reach the file system. A document
    appears whole or not at all, also after a crash, and is on the disk when `put` returns.
    """

    def __init__(self, folder: Path | None) -> None:
        """Name the folder; it is made when the first document comes. None: there is none."""
        self._folder = folder

    def put(self, content: bytes) -> str:
        """Keep a document; the same content is kept once.

        Returns:
            SHA-256 of the content, 64 hexadecimal digits.

        Raises:
            DocumentsUnusable: It cannot be written.
            DocumentDamaged: A file of this name is there with other content; it is left as it is.
        """
        name = hashlib.sha256(content).hexdigest()
        path = self._path(name)
        try:
            if self._is_kept(path, name):
                return name
            self._make_folder(path.parent)
            part = path.with_name(f".{name[:16]}.{uuid4().hex}.part")
            try:
                _write(part, content)
                _take_name(part, path)
            finally:
                part.unlink(missing_ok=True)
            with suppress(OSError):
                path.chmod(READ_ONLY)
            _settle(path.parent)
        except OSError as error:
            raise DocumentsUnusable(str(self._folder), _reason(error)) from error
        if not self._is_kept(path, name):
            raise DocumentDamaged(name)
        return name

    def get(self, sha256: str) -> bytes:
        """Give the content of a document, checked against its hash.

        Raises:
            DocumentMissing: It is not there.
            DocumentDamaged: Its content is not what was kept.
            DocumentsUnusable: It cannot be read.
        """
        path = self._path(sha256)
        try:
            content = path.read_bytes()
        except FileNotFoundError:
            raise DocumentMissing(sha256) from None
        except OSError as error:
            raise DocumentsUnusable(str(self._folder), _reason(error)) from error
        if hashlib.sha256(content).hexdigest() != sha256:
            raise DocumentDamaged(sha256)
        return content

    def all(self) -> Iterator[str]:
        """Yield the hashes of all documents, in order; what is half written is none.

        Raises:
            DocumentsUnusable: The folder cannot be read.
        """
        if self._folder is None:
            return
        try:
            names = sorted(path.name for path in self._folder.glob("[0-9a-f][0-9a-f]/*"))
        except OSError as error:
            raise DocumentsUnusable(str(self._folder), _reason(error)) from error
        yield from (name for name in names if NAME.fullmatch(name))

    def kept_since(self, sha256: str) -> int:
        """Tell since when a document is kept, in microseconds UTC, by its file.

        Raises:
            DocumentMissing: It is not there.
        """
        try:
            return self._path(sha256).stat().st_mtime_ns // 1000
        except FileNotFoundError:
            raise DocumentMissing(sha256) from None

    def remove(self, sha256: str) -> None:
        """Remove a document that no event names; who calls has made sure of that.

        Raises:
            DocumentsUnusable: It cannot be removed.
        """
        try:
            self._path(sha256).unlink(missing_ok=True)
        except OSError as error:
            raise DocumentsUnusable(str(self._folder), _reason(error)) from error

    def read_text(self, content: bytes, name: str) -> list[Line]:
        """Read the lines of a PDF, in bounded time and memory; [] for one that is a picture only.

        Raises:
            BadFile: It is encrypted, broken, or takes too much to read.
        """
        from lotkin.store.files.pdf_text import lines_of_pdf  # noqa: PLC0415 - slow to load

        return lines_of_pdf(content, name)

    def _path(self, sha256: str) -> Path:
        if self._folder is None:
            raise DocumentsUnusable("", "this store has no folder for them")
        if NAME.fullmatch(sha256) is None:
            raise DocumentMissing(sha256[:80])
        return self._folder / sha256[:2] / sha256

    def _is_kept(self, path: Path, name: str) -> bool:
        """Tell whether the document is there.

        Raises:
            DocumentDamaged: Something else is there under its name.
        """
        try:
            content = path.read_bytes()
        except FileNotFoundError:
            return False
        if hashlib.sha256(content).hexdigest() != name:
            raise DocumentDamaged(name)
        return True

    def _make_folder(self, folder: Path) -> None:
        """Make the folder and those above it up to that of the database, to last."""
        for each in (folder.parent, folder):
            if not each.is_dir():
                each.mkdir(exist_ok=True)
                _settle(each.parent)


def _write(part: Path, content: bytes) -> None:
    with part.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _take_name(part: Path, path: Path) -> None:
    """Give a written file its name, unless another program was faster; nothing is overwritten."""
    try:
        os.link(part, path)
    except FileExistsError:
        return
    except OSError:
        # a file system without hard links
        if not path.exists():
            part.rename(path)


def _settle(folder: Path) -> None:
    """Let the entries of a folder reach the disk, where the system can do that."""
    if os.name == "nt":
        return
    opened = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)


def _reason(error: OSError) -> str:
    return error.strerror or type(error).__name__
