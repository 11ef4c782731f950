"""What taking over and giving away plain tables asks of a store."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from lotkin.core.genealogy.view import View
from lotkin.uses.ports import CanRecord

if TYPE_CHECKING:
    from collections.abc import Iterator
    from contextlib import AbstractContextManager

    from lotkin.core.genealogy.items import Item, Link

__all__ = ["CanImport", "Listing"]


class CanImport(CanRecord, Protocol):
    """A store that tables can be checked against and imported into."""

    def reading(self) -> AbstractContextManager[View]:
        """Give a view of one state of the store."""


class Listing(View, Protocol):
    """One state of the store from which everything can be listed."""

    def all_items(self) -> Iterator[Item]:
        """Yield all living items in order of code."""

    def all_links(self) -> Iterator[Link]:
        """Yield all living links in order of child, event, group and parent."""
