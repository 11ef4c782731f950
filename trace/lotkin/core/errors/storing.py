"""Errors of the store."""

from __future__ import annotations

from lotkin.core.errors.root import LotkinError

__all__ = [
    "NoStore",
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
        super().__init__(
            f"{path} has tables of version {found or 'none'}, this lotkin uses {wanted}",
            record=path,
            hint="run `lotkin init --upgrade` after making a copy, or use the newer lotkin",
        )
