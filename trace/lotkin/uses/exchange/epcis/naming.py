"""Names of items and parts in a document."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.epcis.uris import item_uri, our_uri

if TYPE_CHECKING:
    from collections.abc import Mapping

    from lotkin.core.genealogy.items import Item
    from lotkin.uses.ports import Reading

__all__ = ["Naming"]


class Naming:
    """Finds items of the view, and names them by the plan in force."""

    def __init__(self, view: Reading) -> None:
        plan = view.plan(view.plan_number())
        self._view = view
        self._also: dict[str, Item] = {}
        parts = {part.code: part.gtin for part in plan.parts} if plan is not None else {}
        self._gtin_of = parts.get

    def also(self, items: Mapping[str, Item]) -> None:
        """Know some items that are not recorded any more."""
        self._also = dict(items)

    def item(self, code: str) -> Item | None:
        """Find an item."""
        return self._also.get(code) or self._view.item(code)

    def uri(self, code: str) -> str:
        """Name an item."""
        item = self.item(code)
        return our_uri("item", code) if item is None else item_uri(item, self._gtin_of)

    def part(self, code: str) -> str:
        """Name a part, without any lot."""
        gtin = self._gtin_of(code)
        return our_uri("part", code) if gtin is None else f"https://id.gs1.org/01/{gtin.zfill(14)}"
