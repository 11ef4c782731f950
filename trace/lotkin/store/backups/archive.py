"""The file of a backup: a ZIP whose last member tells size and hash of every other one."""

from __future__ import annotations

import hashlib
import zipfile
import zlib
from typing import TYPE_CHECKING, BinaryIO

from pydantic import ValidationError

from lotkin.core.errors import BackupRefused
from lotkin.core.journal.backups import MANIFEST, Manifest, Member

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

__all__ = ["ArchiveReader", "ArchiveWriter"]

BLOCK = 1 << 20
LARGEST_MANIFEST = 256 << 20
QUICK = 1
"""Level of compression: a third of the size of a store in a tenth of the time of the best."""


class ArchiveWriter:
    """Writes members one by one, and in the end what they are."""

    def __init__(self, file: BinaryIO) -> None:
        self._zip = zipfile.ZipFile(
            file, "w", zipfile.ZIP_DEFLATED, allowZip64=True, compresslevel=QUICK
        )
        self.members: list[Member] = []

    def add(self, name: str, content: BinaryIO) -> None:
        """Add a member."""
        digest, size = hashlib.sha256(), 0
        with self._zip.open(name, "w", force_zip64=True) as member:
            while block := content.read(BLOCK):
                digest.update(block)
                size += len(block)
                member.write(block)
        self.members.append(Member(name=name, size=size, sha256=digest.hexdigest()))

    def finish(self, manifest: Manifest) -> None:
        """Add what all is, and end the file."""
        self._zip.writestr(MANIFEST, manifest.model_dump_json())
        self._zip.close()

    def close(self) -> None:
        """Let go of the file."""
        self._zip.close()


class ArchiveReader:
    """Reads a backup, believing nothing that it says before it was compared."""

    def __init__(self, path: Path, named: str) -> None:
        """Open a backup and read what it says of itself.

        Args:
            path: The file, decrypted.
            named: What errors call it.

        Raises:
            BackupRefused: It is no backup, or its end is missing.
        """
        self._named = named
        try:
            self._zip = zipfile.ZipFile(path)
        except (zipfile.BadZipFile, OSError, ValueError) as error:
            raise BackupRefused(
                named, f"it is no backup, or its end is missing ({error})"
            ) from error
        try:
            self.manifest = self._read_manifest()
        except BaseException:
            self._zip.close()
            raise

    def _read_manifest(self) -> Manifest:
        names = self._zip.namelist()
        if names.count(MANIFEST) != 1:
            raise BackupRefused(self._named, "it does not say what it holds")
        if self._zip.getinfo(MANIFEST).file_size > LARGEST_MANIFEST:
            raise BackupRefused(self._named, "what it says of itself is too long")
        try:
            found = Manifest.model_validate_json(self._zip.read(MANIFEST))
        except (ValidationError, *UNREADABLE) as error:
            raise BackupRefused(self._named, "what it says of itself cannot be read") from error
        told = sorted([MANIFEST, *(member.name for member in found.members)])
        if told != sorted(names) or len(set(told)) < len(told):
            raise BackupRefused(self._named, "it holds other files than it says")
        return found

    def take(self, member: Member, into: BinaryIO | None = None) -> None:
        """Read a member to its end, into a file if one is given.

        Raises:
            BackupRefused: It is not what the backup says of it.
        """
        digest, left = hashlib.sha256(), member.size
        for block in self._blocks(member):
            left -= len(block)
            if left < 0:
                break
            digest.update(block)
            if into is not None:
                into.write(block)
        if left or digest.hexdigest() != member.sha256:
            raise BackupRefused(self._named, f"{member.name} is not as it was when it was made")

    def _blocks(self, member: Member) -> Iterator[bytes]:
        """Yield a member block by block, one more than it says if there is; errors are of reading.

        Raises:
            BackupRefused: It cannot be read.
        """
        try:
            with self._zip.open(member.name) as content:
                left = member.size
                while block := content.read(min(BLOCK, max(left, 0) + 1)):
                    left -= len(block)
                    yield block
        except UNREADABLE as error:
            raise BackupRefused(self._named, f"{member.name} cannot be read ({error})") from error

    def close(self) -> None:
        """Let go of the file."""
        self._zip.close()


UNREADABLE = (zipfile.BadZipFile, zlib.error, EOFError, OSError, RuntimeError)
"""What reading a damaged ZIP ends with; RuntimeError where a flipped bit says that a member is
encrypted, or compressed in a way that there is none of."""
