"""Removing what need not be kept any longer; nothing of the record is ever removed."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Iterator
    from contextlib import AbstractContextManager

    from lotkin.core.journal.retention import Retention
    from lotkin.uses.ports import CanRead, Clock

    class Retaining(Protocol):
        """One transaction on what may go."""

        def old(self, kind: str, before: int) -> int:
            """Count what is older than a moment."""

        def remove(self, kind: str, before: int) -> int:
            """Remove what is older than a moment; gives how many."""

    class Store(CanRead, Protocol):
        """A store with what is kept beside the record."""

        def retaining(self, *, only_look: bool = False) -> AbstractContextManager[Retaining]:
            """Give a transaction on what may go."""

    class Documents(Protocol):
        """Documents under the hash of their content."""

        def all(self) -> Iterator[str]:
            """Yield the hashes of all documents."""

        def kept_since(self, sha256: str) -> int:
            """Tell since when a document is kept, in microseconds UTC."""

        def remove(self, sha256: str) -> None:
            """Remove a document."""


__all__ = ["retain"]

KINDS = ("scans", "notices", "sign_ins")
HASH = re.compile(r"\b[0-9a-f]{64}\b")


def retain(
    store: Store, documents: Documents, rules: Retention, clock: Clock, *, dry_run: bool
) -> dict[str, int]:
    """Remove what is older than its rule says.

    Args:
        store: The store.
        documents: Its documents.
        rules: How long what is kept.
        clock: Tells what is old.
        dry_run: Only count.

    Returns:
        Kind -> how many went, or would go.
    """
    now = clock()
    with store.retaining(only_look=dry_run) as retaining:
        act = retaining.old if dry_run else retaining.remove
        gone = {kind: act(kind, rules.before(kind, now)) for kind in KINDS}
    gone["documents"] = 0
    unnamed = set(documents.all())
    if unnamed:
        with store.reading() as view:
            for row in view.chain_rows():
                unnamed.difference_update(HASH.findall(row.data))
    before = rules.before("documents", now)
    for sha256 in sorted(unnamed):
        if documents.kept_since(sha256) < before:
            gone["documents"] += 1
            if not dry_run:
                documents.remove(sha256)
    return gone
