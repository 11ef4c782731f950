"""What a report says of the seal of the journal that it was made from."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin.core.journal.seals import SealOf

__all__ = ["SEALED", "seal_facts"]

SEALED = "sealed"
HALF = 64


def seal_facts(seal: SealOf | None) -> list[tuple[str, str]]:
    """Give lines on a seal: how far it goes, the public key, the signature in two halves."""
    if seal is None:
        return []
    return [
        (SEALED, f"events 1 to {seal.events}, Ed25519"),
        ("key of the seal", seal.key),
        ("its signature", seal.signature[:HALF]),
        ("and", seal.signature[HALF:]),
    ]
