"""What backing up and restoring ask of files and of a store."""

from __future__ import annotations

from typing import TYPE_CHECKING, BinaryIO, Protocol

from lotkin.uses.ports import CanRead

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from contextlib import AbstractContextManager
    from pathlib import Path

    from lotkin.core.journal.backups import Manifest, Member

__all__ = ["Backups", "Copy", "Documents", "Reader", "Writer"]


class Copy(CanRead, Protocol):
    """A copy of a store."""

    def close(self) -> None:
        """Let go of it."""


class Documents(Protocol):
    """Documents under the hash of their content."""

    def all(self) -> Iterator[str]:
        """Yield the hashes of all documents."""

    def get(self, sha256: str) -> bytes:
        """Give the content of a document."""

    def put(self, content: bytes) -> str:
        """Keep a document."""


class Writer(Protocol):
    """A backup that is being written."""

    members: list[Member]

    def add(self, name: str, content: BinaryIO) -> None:
        """Add a member."""

    def finish(self, manifest: Manifest) -> None:
        """Add what all is, and end the file."""


class Reader(Protocol):
    """A backup that is being read."""

    manifest: Manifest

    def take(self, member: Member, into: BinaryIO | None = None) -> None:
        """Read a member to its end, into a file if one is given."""


class Backups(Protocol):
    """Files, encryption and temporary folders of the backups of a store."""

    url: str
    tables: str

    def place(self) -> Path:
        """Give where the store is, or is to be.

        Raises:
            Unavailable: It is on a server.
        """

    def documents(self) -> Documents:
        """Give the documents of the store."""

    def folder(self) -> AbstractContextManager[Path]:
        """Give a folder that only we may read, gone at the end."""

    def copy(self, path: Path) -> None:
        """Copy the store as it is at one moment."""

    def open_copy(self, path: Path, named: str, *, upgrade: bool = False) -> Copy:
        """Open a copy that was checked to be whole."""

    def writing(self, path: Path, recipients: Sequence[str] = ()) -> AbstractContextManager[Writer]:
        """Give a backup to fill."""

    def reading(self, path: Path, key: Path | None) -> AbstractContextManager[Reader]:
        """Give a backup to read."""
