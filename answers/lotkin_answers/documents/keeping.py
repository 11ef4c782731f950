"""Whether a store is sound, as documents."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.instants import show_instant

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.core.journal.named_documents import LostDocument
    from lotkin.core.journal.seals import SealOf
    from lotkin.uses.evidence.back_up import BackedUp
    from lotkin.uses.evidence.rebuild import Rebuilt
    from lotkin.uses.evidence.verify import Verified
    from lotkin.uses.evidence.verify_report import AgainstReport
    from lotkin_answers.json_document import Data, Value

__all__ = ["backup_document", "lost_data", "rebuilt_document", "seal_data", "verified_document"]


def verified_document(
    found: Verified, against: AgainstReport | None = None
) -> dict[str, Value | Iterable[Value]]:
    """Describe what verifying found, and what a comparison with a report."""
    document: dict[str, Value | Iterable[Value]] = {
        "sound": found.is_sound,
        "events": found.events,
        "head": found.head,
        "damage": ({"event": seq, "why": why} for seq, why in found.damage),
        "seals": (seal_data(one) for one in found.seals),
        "sealed_to": found.sealed_to,
        "documents": len(found.named),
        "lost_documents": [lost_data(one) for one in found.lost or ()],
        "not_looked_at": list(found.not_looked_at),
    }
    if against is not None:
        document["against"] = {
            "holds": against.holds,
            "event": against.event,
            "head": against.head,
            "events_since": against.since,
        }
    return document


def lost_data(one: LostDocument) -> Data:
    """Describe a document that is missing or altered."""
    return {
        "document": one.document.sha256,
        "name": one.document.name,
        "event": one.document.event or None,
        "why": one.why,
    }


def seal_data(one: SealOf) -> Data:
    """Describe a seal."""
    return {
        "event": one.event,
        "at": show_instant(one.at),
        "events": one.events,
        "head": one.head,
        "key": one.key,
        "signature": one.signature,
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
        "missing_documents": [one.document.sha256 for one in done.lost],
        "lost_documents": [lost_data(one) for one in done.lost],
        "bytes": done.size,
    }
