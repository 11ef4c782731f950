"""Errors of backups."""

from __future__ import annotations

from lotkin.core.errors.malformed import Invalid
from lotkin.core.errors.storing import Unavailable

__all__ = ["BackupKeyWrong", "BackupRefused", "BackupUnusable", "StoreDamaged"]


class BackupRefused(Invalid):
    """A backup that is damaged, or is none; nothing was restored from it."""

    kind = "backup-refused"

    def __init__(self, path: str, why: str) -> None:
        self.why = why
        super().__init__(
            f"{path} is not restored: {why}",
            record=path,
            hint="nothing was changed; take an earlier backup",
        )


class StoreDamaged(Invalid):
    """A store that is damaged; no backup of it was made."""

    kind = "store-damaged"

    def __init__(self, path: str, why: str) -> None:
        super().__init__(
            f"{path} is not backed up, because it is damaged: {why}",
            record=path,
            hint="keep the file, run `lotkin verify`, and restore the last sound backup",
        )


class BackupKeyWrong(Invalid):
    """An encrypted backup, and no key that opens it."""

    kind = "backup-key-wrong"

    def __init__(self, path: str, why: str) -> None:
        super().__init__(
            f"{path} cannot be decrypted: {why}",
            record=path,
            hint="name the file with the key (AGE-SECRET-KEY-…) with --key",
        )


class BackupUnusable(Unavailable):
    """A backup cannot be written or read where it was named."""

    kind = "backup-unusable"

    def __init__(self, path: str, why: str) -> None:
        super().__init__(
            f"{path} cannot be used for a backup: {why}",
            record=path,
            hint="see that there is room and the folder can be written",
        )
