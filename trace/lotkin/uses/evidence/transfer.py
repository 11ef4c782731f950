"""Taking a works to another store: the old one stays as it is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from lotkin.core.errors import StoreUnreadable
from lotkin.uses.evidence.named_documents import lost_documents
from lotkin.uses.evidence.verify import verify

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.journal.named_documents import LostDocument
    from lotkin.uses.ports import CanRead

    class Documents(Protocol):
        """Documents under the hash of their content."""

        def all(self) -> Iterator[str]:
            """Yield the hashes of all documents."""

        def get(self, sha256: str) -> bytes:
            """Give the content of a document."""

        def put(self, content: bytes) -> str:
            """Keep a document."""

    class Transfers(Protocol):
        """Two stores, the second one empty."""

        @property
        def source(self) -> CanRead:
            """The store that there is."""

        @property
        def target(self) -> CanRead:
            """The new one."""

        @property
        def source_documents(self) -> Documents:
            """Documents that there are."""

        @property
        def target_documents(self) -> Documents:
            """Where they go."""

        def copy(self) -> int:
            """Copy all rows; gives how many."""

        def difference(self) -> str:
            """Name the first table that differs; "" if none does."""


__all__ = ["Transferred", "transfer"]


@dataclass(frozen=True, slots=True)
class Transferred:
    """What was taken over.

    Attributes:
        rows: Of all tables.
        events: Number of the last event.
        head: Its hash.
        documents: How many.
        lost: Those that events name and that were missing already.
    """

    rows: int
    events: int
    head: str
    documents: int
    lost: tuple[LostDocument, ...]


def transfer(stores: Transfers) -> Transferred:
    """Copy a store with its documents, and prove that both hold the same.

    Raises:
        StoreUnreadable: The journal is damaged, or the copy is not the same.
    """
    before = verify(stores.source)
    if before.damage:
        seq, why = before.damage[0]
        raise StoreUnreadable("the store", f"event {seq} of its journal {why}; nothing was copied")
    documents = 0
    for sha256 in stores.source_documents.all():
        stores.target_documents.put(stores.source_documents.get(sha256))
        documents += 1
    lost = lost_documents(before.named, stores.target_documents)
    rows = stores.copy()
    differs = stores.difference()
    after = verify(stores.target)
    if differs or after.damage or after.head != before.head:
        what = f"table {differs} differs" if differs else "its journal is another"
        raise StoreUnreadable("the copy", f"{what}; was something recorded meanwhile?")
    return Transferred(rows, after.events, after.head, documents, lost)
