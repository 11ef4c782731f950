"""Making a backup while others record, and restoring one that was proven sound."""

from __future__ import annotations

import io
import os
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.errors import (
    BackupRefused,
    DocumentDamaged,
    DocumentMissing,
    StoreDamaged,
    StoreExists,
)
from lotkin.core.journal.backups import FORMAT, STORE, Manifest, document_name
from lotkin.core.journal.named_documents import ALTERED, MISSING, LostDocument, NamedDocument
from lotkin.uses.evidence.verify import verify

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from lotkin.uses.evidence.backup_ports import Backups, Documents, Reader, Writer
    from lotkin.uses.evidence.verify import Verified
    from lotkin.uses.ports import Clock

__all__ = ["BackedUp", "back_up", "restore"]

NOT_IN_IT = "is not in the backup"


@dataclass(frozen=True, slots=True)
class BackedUp:
    """What a backup holds.

    Attributes:
        path: The file.
        made_at: Microseconds UTC.
        events: Number of the last event.
        head: Hash of the last event.
        documents: How many documents.
        lost: Documents that are not in it: missing or altered when it was made.
        size: Bytes of the file.
    """

    path: Path
    made_at: int
    events: int
    head: str
    documents: int
    lost: tuple[LostDocument, ...]
    size: int


def back_up(backups: Backups, path: Path, clock: Clock, recipients: Sequence[str] = ()) -> BackedUp:
    """Make a backup of a store and its documents, others recording meanwhile.

    The copy is verified before it is kept: a store that is damaged is told as such, and no backup
    of it takes the place of a sound one. A document that an event names and that is missing or
    altered is told; the backup is made without it.

    Args:
        backups: Of which store.
        path: The file to make; there must be none.
        clock: For when it was made.
        recipients: Who can read it (`age1…`); () for everybody.

    Raises:
        BackupUnusable: It cannot be written there.
        StoreDamaged: The store is.
    """
    made_at = clock()
    with backups.writing(path, recipients) as archive, backups.folder() as folder:
        copy = folder / STORE
        backups.copy(copy)
        try:
            found = _proven(backups, copy, backups.url)
        except BackupRefused as damage:
            raise StoreDamaged(backups.url, damage.why) from damage
        with copy.open("rb") as content:
            archive.add(STORE, content)
        # a document is kept before the event that names it: none of the copy's can be missed
        lost = _add_documents(archive, backups.documents(), found.named)
        archive.finish(
            Manifest(
                format=FORMAT,
                made_at=made_at,
                tables=backups.tables,
                events=found.events,
                head=found.head,
                missing=tuple(one.document.sha256 for one in lost),
                members=tuple(archive.members),
            )
        )
        count = len(archive.members) - 1
    return BackedUp(path, made_at, found.events, found.head, count, lost, path.stat().st_size)


def _add_documents(
    archive: Writer, documents: Documents, named: Sequence[NamedDocument]
) -> tuple[LostDocument, ...]:
    """Add what is kept and what events name; give what could not be added."""
    wanted = {one.sha256: one for one in named}
    for sha256 in documents.all():
        wanted.setdefault(sha256, NamedDocument(sha256, "", 0))
    lost = []
    for sha256, document in sorted(wanted.items()):
        try:
            archive.add(document_name(sha256), io.BytesIO(documents.get(sha256)))
        except DocumentMissing:
            lost.append(LostDocument(document, MISSING))
        except DocumentDamaged:
            lost.append(LostDocument(document, ALTERED))
    return tuple(lost)


def _proven(backups: Backups, copy: Path, named: str, *, upgrade: bool = False) -> Verified:
    """Verify the journal of a copy.

    Raises:
        BackupRefused: It is not as it was recorded.
    """
    store = backups.open_copy(copy, named, upgrade=upgrade)
    try:
        found = verify(store)
    finally:
        store.close()
    if found.damage:
        seq, why = found.damage[0]
        raise BackupRefused(named, f"event {seq} of its journal {why}")
    return found


def restore(
    backups: Backups,
    path: Path,
    key: Path | None = None,
    *,
    check_only: bool = False,
    expected_head: str = "",
) -> BackedUp:
    """Restore a backup, after everything in it was compared with its hash.

    Documents that its events name and that it lacks are told.

    Args:
        backups: Of the store to be; there must be none yet.
        path: The backup.
        key: What opens an encrypted one.
        check_only: Prove it, and restore nothing.
        expected_head: Hash that the last event must have; "" for any.

    Raises:
        StoreExists: A store is there.
        BackupRefused: It is damaged, or another one than was expected.
        BackupKeyWrong: It cannot be decrypted.
    """
    to = backups.place()
    if not check_only and to.exists():
        raise StoreExists(str(to))
    with backups.reading(path, key) as archive, backups.folder() as folder:
        manifest = archive.manifest
        if manifest.tables > backups.tables:
            raise BackupRefused(str(path), "it was made by a newer lotkin")
        if expected_head and manifest.head != expected_head:
            raise BackupRefused(str(path), f"its last event has the hash {manifest.head}")
        copy = folder / STORE
        _check_members(archive, copy, str(path))
        found = _proven(backups, copy, str(path), upgrade=True)
        if (found.events, found.head) != (manifest.events, manifest.head):
            raise BackupRefused(str(path), "its journal ends elsewhere than it says")
        if not check_only:
            _put_documents(archive, backups.documents())
            _put_store(copy, to)
    documents = len(manifest.members) - 1
    size = path.stat().st_size
    return BackedUp(
        path,
        manifest.made_at,
        manifest.events,
        manifest.head,
        documents,
        _lost_before(manifest, found.named),
        size,
    )


def _lost_before(manifest: Manifest, named: Sequence[NamedDocument]) -> tuple[LostDocument, ...]:
    """List the documents that a backup should hold, by its journal or its own word, and lacks."""
    inside = {member.name for member in manifest.members}
    wanted = {one.sha256: one for one in named}
    for sha256 in manifest.missing:
        wanted.setdefault(sha256, NamedDocument(sha256, "", 0))
    return tuple(
        LostDocument(document, NOT_IN_IT)
        for sha256, document in wanted.items()
        if document_name(sha256) not in inside
    )


def _check_members(archive: Reader, copy: Path, named: str) -> None:
    """Compare every member with what the backup says of it; keep the store."""
    has_store = False
    for member in archive.manifest.members:
        if member.name == STORE:
            has_store = True
            with copy.open("xb") as into:
                archive.take(member, into)
        elif member.name != document_name(member.sha256):
            raise BackupRefused(named, f"{member.name} has another content than its name says")
        else:
            archive.take(member)
    if not has_store:
        raise BackupRefused(named, "there is no store in it")


def _put_documents(archive: Reader, documents: Documents) -> None:
    for member in archive.manifest.members:
        if member.name != STORE:
            content = io.BytesIO()
            archive.take(member, content)
            documents.put(content.getvalue())


def _put_store(copy: Path, to: Path) -> None:
    """Give the store its name; a store that somebody made meanwhile is left alone."""
    with copy.open("rb+") as file:
        os.fsync(file.fileno())
    try:
        to.hardlink_to(copy)
    except FileExistsError:
        raise StoreExists(str(to)) from None
    except OSError:
        # a file system without hard links
        if to.exists():
            raise StoreExists(str(to)) from None
        copy.rename(to)
