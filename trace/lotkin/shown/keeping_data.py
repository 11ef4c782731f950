"""Whether a store is sound, as documents."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.shown.json_document import Value
    from lotkin.uses.rebuild import Rebuilt
    from lotkin.uses.verify import Verified

__all__ = ["rebuilt_document", "verified_document"]


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
