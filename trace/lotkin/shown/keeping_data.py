"""Whether a store is sound, as documents."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.instants import show_instant

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.shown.json_document import Data, Value
    from lotkin.uses.back_up import BackedUp
    from lotkin.uses.rebuild import Rebuilt
    from lotkin.uses.verify import Verified

__all__ = ["backup_document", "rebuilt_document", "verified_document"]


def verified_document(found: Verified) -> dict[str, Value | Iterable[Value]]:
    """Describe what verifying found."""
    return {
        "sound": found.is_sound,
        "events": found.events,
        "head": found.head,
        "damage": ({"event": seq, "why": why} for seq, why in found.damage),
    }


def rebuilt_document(found: Rebuilt) -> dict[str, Value | Iterable[Value]]:
    """Describe what rebuilding found."""
    return {
        "same": not found.difference,
        "events": found.events,
        "difference": found.difference,
        "kept": found.kept,
    }


def backup_document(done: BackedUp) -> Data:
    """Describe what a backup holds."""
    return {
        "file": str(done.path),
        "made": show_instant(done.made_at),
        "events": done.events,
        "head": done.head,
        "documents": done.documents,
        "missing_documents": list(done.missing),
        "bytes": done.size,
    }
