"""Making backups of a store and reading them: files, encryption, temporary folders."""

from __future__ import annotations

import datetime as dt
import os
import tempfile
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

from lotkin.core.errors import BackupUnusable, Unavailable
from lotkin.store.backups.archive import ArchiveReader, ArchiveWriter
from lotkin.store.backups.copying import check_whole, copy_store
from lotkin.store.backups.encryption import (
    decrypt,
    encrypt,
    is_encrypted,
    make_key,
    recipients_of,
)
from lotkin.store.connection.revision import HEAD
from lotkin.store.connection.urls import sqlite_path
from lotkin.wiring.documents import open_documents
from lotkin.wiring.opening import open_store, upgrade_store

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from lotkin.store.beside.documents import Documents
    from lotkin.store.store import Store

__all__ = ["Backups", "check_recipients", "kept_in", "make_key", "named_after"]

NAMED = "lotkin-{moment}.backup"


class Backups:
    """Backups of one store.

    Attributes:
        url: The store.
        tables: Revision of the tables that this lotkin uses.
    """

    def __init__(self, url: str) -> None:
        self.url = url
        self.tables = HEAD
        self._path = path = sqlite_path(url)
        # what is in clear for a moment stays on the disk of the store, which holds it in clear
        self._beside = path.absolute().parent if path is not None else None

    def place(self) -> Path:
        """Give where the store is, or is to be.

        Raises:
            Unavailable: It is on a server.
        """
        if self._path is None:
            raise Unavailable(
                "a store on a server is restored by the server",
                record=self.url,
                hint="use pg_restore; see the guide on backups",
            )
        return self._path

    def documents(self) -> Documents:
        """Give the documents of the store."""
        return open_documents(self.url)

    @contextmanager
    def folder(self) -> Iterator[Path]:
        """Give a folder that only we may read, gone at the end."""
        with tempfile.TemporaryDirectory(prefix=".lotkin-backup-", dir=self._beside) as folder:
            yield Path(folder)

    def copy(self, path: Path) -> None:
        """Copy the store as it is at one moment."""
        store = open_store(self.url)
        try:
            copy_store(store.engine, path)
        finally:
            store.close()

    def open_copy(self, path: Path, named: str, *, upgrade: bool = False) -> Store:
        """Open a copy that was checked to be whole.

        Raises:
            BackupRefused: It is damaged.
        """
        check_whole(path, named)
        return (upgrade_store if upgrade else open_store)(str(path))

    @contextmanager
    def writing(self, path: Path, recipients: Sequence[str] = ()) -> Iterator[ArchiveWriter]:
        """Give a backup to fill; it takes its name when it is whole and on the disk.

        Raises:
            BackupUnusable: It cannot be written, or is there already.
        """
        check_recipients(recipients)  # nothing is begun for somebody who could never read it
        part = path.with_name(f".{path.name[:80]}.part")
        try:
            if path.exists():
                raise BackupUnusable(str(path), "it is there already")
            with _open_anew(part) as file, self.folder() as folder:
                if not recipients:
                    with closing(ArchiveWriter(file)) as archive:
                        yield archive
                else:
                    with (folder / "clear").open("w+b") as clear:
                        with closing(ArchiveWriter(clear)) as archive:
                            yield archive
                        clear.seek(0)
                        encrypt(clear, file, recipients)
                file.flush()
                os.fsync(file.fileno())
            part.rename(path)
        except OSError as error:
            raise BackupUnusable(str(path), error.strerror or str(error)) from error
        finally:
            with suppress(OSError):
                part.unlink(missing_ok=True)

    @contextmanager
    def reading(self, path: Path, key: Path | None) -> Iterator[ArchiveReader]:
        """Give a backup to read, decrypted if it must be.

        Raises:
            BackupUnusable: The file cannot be read.
            BackupRefused: It is no backup.
            BackupKeyWrong: It is encrypted and the key does not open it.
        """
        try:
            if not is_encrypted(path):
                with closing(ArchiveReader(path, str(path))) as reader:
                    yield reader
                return
            with self.folder() as folder:
                clear = folder / "clear"
                with clear.open("xb") as into:
                    decrypt(path, into, key)
                with closing(ArchiveReader(clear, str(path))) as reader:
                    yield reader
        except OSError as error:
            raise BackupUnusable(str(path), error.strerror or str(error)) from error


def _open_anew(part: Path) -> BinaryIO:
    part.unlink(missing_ok=True)
    return os.fdopen(os.open(part, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600), "w+b")


def check_recipients(recipients: Sequence[str]) -> None:
    """Check that backups can be encrypted to some recipients.

    Raises:
        BadFile: One is none.
    """
    recipients_of(recipients)


def named_after(folder: Path, now: int, *, encrypted: bool = False) -> Path:
    """Name a new backup in a folder after the time (UTC)."""
    moment = dt.datetime.fromtimestamp(now // 1_000_000, dt.UTC).strftime("%Y%m%dT%H%M%SZ")
    name = NAMED.format(moment=moment)
    return folder / (f"{name}.age" if encrypted else name)


def kept_in(folder: Path) -> list[Path]:
    """List the backups in a folder that are named after their time, the oldest first.

    Raises:
        BackupUnusable: The folder cannot be read.
    """
    try:
        found = [
            p
            for p in folder.iterdir()
            if p.match(NAMED.format(moment="2*")) or p.match(NAMED.format(moment="2*") + ".age")
        ]
    except OSError as error:
        raise BackupUnusable(str(folder), error.strerror or str(error)) from error
    return sorted(found, key=lambda path: path.name)
