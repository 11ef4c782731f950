"""Comparing the documents that events name with those that are kept."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from lotkin.core.errors import DocumentDamaged, DocumentMissing, DocumentsUnusable
from lotkin.core.journal.named_documents import (
    ALTERED,
    MISSING,
    UNREADABLE,
    LostDocument,
    NamedDocument,
    documents_in,
)

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.core.journal.chain import ChainRow

    class GivesDocuments(Protocol):
        """Documents under the hash of their content."""

        def get(self, sha256: str) -> bytes:
            """Give the content of a document, compared with its hash."""


__all__ = ["lost_documents", "named_documents"]


def named_documents(rows: Iterable[ChainRow]) -> list[NamedDocument]:
    """List the documents that a journal names, each once, by the first event that names it."""
    found: dict[str, NamedDocument] = {}
    for row in rows:
        for document in documents_in(row.seq, row.data):
            found.setdefault(document.sha256, document)
    return list(found.values())


def lost_documents(
    named: Iterable[NamedDocument], documents: GivesDocuments
) -> tuple[LostDocument, ...]:
    """List those that are missing or are not as they were kept, in order.

    Reads and hashes every one of them.
    """
    lost = ((document, _lack(document.sha256, documents)) for document in named)
    return tuple(LostDocument(document, why) for document, why in lost if why)


def _lack(sha256: str, documents: GivesDocuments) -> str:
    """Tell what is wrong with a document; "" if it is as it was kept."""
    try:
        documents.get(sha256)
    except DocumentMissing:
        return MISSING
    except DocumentDamaged:
        return ALTERED
    except DocumentsUnusable as error:
        return f"{UNREADABLE}: {error}"
    return ""
