"""Two stores, one of them to be filled from the other."""

from __future__ import annotations

from lotkin.store.transfer import copy_tables, difference_between
from lotkin.wiring.documents import open_documents
from lotkin.wiring.opening import create_store, open_store

__all__ = ["Transfers"]


class Transfers:
    """A store, and a new one for all that it holds.

    Attributes:
        source, target: Both.
        source_documents, target_documents: And their documents.
    """

    def __init__(self, source: str, target: str) -> None:
        """Open the one and make the other.

        Raises:
            StoreExists: There is something at the other end already.
        """
        self.source = open_store(source)
        self.target = create_store(target)
        self.source_documents = open_documents(source)
        self.target_documents = open_documents(target)

    def copy(self) -> int:
        """Copy all rows; gives how many."""
        return copy_tables(self.source.engine, self.target.engine)

    def difference(self) -> str:
        """Name the first table that differs; "" if none does."""
        return difference_between(self.source.engine, self.target.engine)
