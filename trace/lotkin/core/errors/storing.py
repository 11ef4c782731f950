"""Errors of the store."""

from __future__ import annotations

from lotkin.core.errors.root import LotkinError

__all__ = [
    "DocumentDamaged",
    "DocumentMissing",
    "DocumentsUnusable",
    "JournalUnreadable",
    "NoStore",
    "StoreClosed",
    "StoreExists",
    "StoreLocked",
    "StoreOutdated",
    "StoreUnreadable",
    "Unavailable",
]


class Unavailable(LotkinError):
    """The store cannot be used."""

    kind = "unavailable"
    exit_status = 5


class NoStore(Unavailable):
    """There is no store at this path."""

    kind = "no-store"

    def __init__(self, path: str) -> None:
        super().__init__(
            f"there is no store at {path}",
            record=path,
            hint="make one with `lotkin init`, or name another with --db or LOTKIN_DB",
        )


class JournalUnreadable(Unavailable):
    """An event of the journal cannot be replayed."""

    kind = "journal-unreadable"

    def __init__(self, seq: int, why: str) -> None:
        super().__init__(
            f"event {seq} of the journal cannot be replayed: {why}",
            record=str(seq),
            hint="nothing was changed; `lotkin verify` tells whether the journal is damaged",
        )


class StoreClosed(Unavailable):
    """A program asks a store that it has closed."""

    kind = "store-closed"

    def __init__(self, path: str) -> None:
        super().__init__(f"{path} is closed", record=path, hint="open it again with `lotkin.open`")


class StoreExists(Unavailable):
    """A store is already there."""

    kind = "store-exists"

    def __init__(self, path: str) -> None:
        super().__init__(
            f"{path} exists already", record=path, hint="name another path; nothing was changed"
        )


class StoreLocked(Unavailable):
    """Another program holds the store for too long."""

    kind = "store-locked"

    def __init__(self, path: str) -> None:
        super().__init__(
            f"{path} is being written by another program",
            record=path,
            hint="try again in a moment; the event is safe to send twice",
        )


class StoreUnreadable(Unavailable):
    """The file is not a store, cannot be read or written, or is torn."""

    kind = "store-unreadable"

    def __init__(self, path: str, why: str) -> None:
        super().__init__(f"{path} cannot be used: {why}", record=path, hint="")


class StoreOutdated(Unavailable):
    """The store was made by another version of lotkin."""

    kind = "store-outdated"

    def __init__(self, path: str, found: str, wanted: str) -> None:
        older = "run `lotkin init --upgrade` after making a copy"
        newer = "a newer lotkin made it: use that one; this one leaves it as it is"
        super().__init__(
            f"{path} has tables of version {found or 'none'}, this lotkin uses {wanted}",
            record=path,
            hint=newer if found > wanted else older,
        )


class DocumentsUnusable(Unavailable):
    """The folder of documents cannot be read or written."""

    kind = "documents-unusable"

    def __init__(self, folder: str, why: str) -> None:
        about = f"documents in {folder}" if folder else "documents"
        super().__init__(
            f"{about} cannot be kept or read: {why}",
            record=folder,
            hint="see that the folder beside the store can be written and the disk has room",
        )


class DocumentMissing(Unavailable):
    """A document that was recorded is not in the folder."""

    kind = "document-missing"

    def __init__(self, sha256: str) -> None:
        super().__init__(
            f"document {sha256} is not in the folder of documents",
            record=sha256,
            hint="restore the folder beside the store from a backup",
        )


class DocumentDamaged(Unavailable):
    """The content of a document is not what was kept."""

    kind = "document-damaged"

    def __init__(self, sha256: str) -> None:
        super().__init__(
            f"document {sha256} was changed after it was kept",
            record=sha256,
            hint="restore this file from a backup; it is left as it is",
        )
