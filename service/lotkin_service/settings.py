"""What the service is started with."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from lotkin.uses.evidence.seal import Signer
    from lotkin_service.webhooks.hook_file import Hook

__all__ = ["BackupPlan", "ServiceSettings"]


@dataclass(frozen=True, slots=True)
class BackupPlan:
    """When backups are made, where, and for whom.

    Attributes:
        folder: Where they go; better on another disk.
        every_h: Hours from one to the next.
        keep: How many there are at most; the oldest go.
        recipients: Who can read them (`age1…`); () for everybody.
    """

    folder: Path
    every_h: float = 24.0
    keep: int = 30
    recipients: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ServiceSettings:
    """What the service is started with.

    Attributes:
        db: Path or URL of the store.
        read_db: Store to ask, if it is another one (a replica); "" for the same.
        secure: Whether browsers reach it by https; cookies are then sent by https only.
        base_url: Address as browsers see it, for printed codes and links; "" if unknown.
        poll_s: How often the journal is looked at for what others recorded.
        hooks: Who is told of cases.
        backups: Which backups are made; None for none.
        signer: Who seals the journal; None for nobody.
        seal_every_h: Hours from one seal to the next.
    """

    db: str
    read_db: str = ""
    secure: bool = False
    base_url: str = ""
    poll_s: float = 0.5
    hooks: tuple[Hook, ...] = ()
    backups: BackupPlan | None = None
    signer: Signer | None = None
    seal_every_h: float = 24.0
