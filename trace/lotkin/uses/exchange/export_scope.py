"""Choosing what is given away: everything, or some items with all behind and all made of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.uses.lookup.resolve import resolve

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from typing import Protocol

    from lotkin.core.genealogy.items import Item, Link
    from lotkin.uses.exchange.import_ports import Listing
    from lotkin.uses.ports import Reading

    class ReadingAll(Reading, Listing, Protocol):
        """One state of the store, for answers and for whole tables."""


__all__ = ["Selected"]


class Selected:
    """Items, and the links between them.

    Raises when it is made:
        NotFound, Ambiguous: A text leads nowhere, or to several items.
    """

    def __init__(self, view: ReadingAll, texts: Sequence[str] = ()) -> None:
        """Choose some items by code, serial, label or number; () for everything."""
        self.view = view
        self._codes: set[str] | None = None
        if texts:
            codes = [resolve(view, text).code for text in texts]
            down = view.reach(codes, "down").nodes.code
            self._codes = {*down, *view.reach(codes, "up").nodes.code}

    def items(self) -> Iterator[Item]:
        """Yield the items in order of code."""
        if self._codes is None:
            yield from self.view.all_items()
            return
        for code in sorted(self._codes):
            item = self.view.item(code)
            if item is not None:
                yield item

    def links(self) -> Iterator[Link]:
        """Yield the links between the items in order of child, event, group and parent."""
        if self._codes is None:
            yield from self.view.all_links()
            return
        for code in sorted(self._codes):
            yield from self._into(code, self._codes)

    def _into(self, code: str, codes: set[str]) -> Iterable[Link]:
        links = [link for link in self.view.parents(code) if link.parent in codes]
        return sorted(links, key=lambda link: (link.event, link.group, link.parent))
