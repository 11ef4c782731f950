"""Files that users name: reading them line by line, and writing them whole or not at all."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING, TextIO
from uuid import uuid4

from lotkin.core.errors import BadFile

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path
    from typing import Protocol

    class Digest(Protocol):
        """A hash that is being made."""

        def update(self, data: bytes, /) -> None:
            """Add some bytes."""


BLOCK = 1 << 20
"""Bytes that are read at a time."""

__all__ = ["read_lines", "writing_text"]


def read_lines(path: Path, longest: int, digest: Digest) -> Iterator[bytes]:
    """Yield the lines of a file with their ends, the file never in memory as a whole.

    Args:
        path: The file.
        longest: Bytes after which a line is cut; a cut line is one byte longer than that.
        digest: Is given all bytes read, cut ones too.

    Raises:
        BadFile: It cannot be opened or read.
    """
    try:
        with path.open("rb") as file:
            rest, is_cut = b"", False
            while block := file.read(BLOCK):
                digest.update(block)
                *lines, rest = (rest + block).split(b"\n")
                for line in lines:
                    if not is_cut:
                        yield line + b"\n" if len(line) <= longest else line[: longest + 1]
                    is_cut = False
                if len(rest) > longest and not is_cut:
                    yield rest[: longest + 1]
                    is_cut = True
                if is_cut:
                    rest = b""
            if rest:
                yield rest
    except OSError as error:
        raise BadFile(str(path), f"cannot be read: {_reason(error)}") from error


@contextmanager
def writing_text(path: Path) -> Iterator[TextIO]:
    """Give a text file in UTF-8, line ends as written; it takes its name when all went well.

    Raises:
        BadFile: It cannot be written.
    """
    try:
        if path.exists() and not path.is_file():
            # A terminal or a pipe has no content that could be lost, and must stay what it is.
            with path.open("w", encoding="utf-8", newline="") as file:
                yield file
        else:
            with _replacing(path.resolve()) as file:
                yield file
    except OSError as error:
        raise BadFile(str(path), f"cannot be written: {_reason(error)}") from error


@contextmanager
def _replacing(path: Path) -> Iterator[TextIO]:
    part = path.with_name(f".{path.name[:40]}.{uuid4().hex}.part")
    try:
        with part.open("x", encoding="utf-8", newline="") as file:
            yield file
        if path.exists():
            part.chmod(path.stat().st_mode & 0o777)
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)


def _reason(error: OSError) -> str:
    return error.strerror or type(error).__name__
