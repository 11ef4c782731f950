"""What is recorded here already, as the understanding of foreign events asks for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.epcis.identifiers import parts_of
from lotkin.core.epcis.uris import code_of, said_by
from lotkin.core.values.places import IMPORTED, Spot

if TYPE_CHECKING:
    from lotkin.core.genealogy.items import Item
    from lotkin.uses.ports import Recording

__all__ = ["KnownItems"]


class KnownItems:
    """What is recorded here, as the understanding of foreign events asks for it."""

    def __init__(self, view: Recording, brought: frozenset[int]) -> None:
        """Look at what is recorded.

        Args:
            view: The transaction.
            brought: Numbers of events whose items are not known, because they are told anew.
        """
        self._view = view
        self._brought = brought
        number = view.plan_number()
        plan = view.plan(number) if number else None
        parts = plan.parts if plan is not None else ()
        self._parts = {part.gtin.zfill(14): part.code for part in parts if part.gtin}

    def find(self, uri: str, code: str) -> Item | None:
        """Find an item by what its identifier says, or by the code that we would give it."""
        item = self._find(uri, code)
        return None if item is None or item.event in self._brought else item

    def _find(self, uri: str, code: str) -> Item | None:
        ours = said_by(uri, "item")
        if ours is not None:
            return self._view.item(ours)
        said = parts_of(uri)
        part = self._parts.get(said.get("01", ""), "")
        for key in ("21", "10"):
            if part and key in said:
                item = self._of_part(code_of(uri) or "", part)
                if item is not None:
                    return item
        if "00" in said and (item := self._view.item(said["00"])) is not None:
            return item
        return self._view.item(code)

    def _of_part(self, text: str, part: str) -> Item | None:
        """Find an item of ours: the newest state of a serial, or a lot."""
        current = self._view.label(text) or text
        item = self._view.item(current)
        return item if item is not None and item.part == part else None

    def part(self, gtin: str) -> str:
        """Give our code of a part by its GTIN; the GTIN if we have none."""
        return self._parts.get(gtin, gtin)

    def spot(self, code: str) -> Spot:
        """Tell where an item lies, most of it."""
        stock = {s: q for s, q in self._view.stock(code).items() if not s.is_end and q > 0}
        return max(stock, key=lambda spot: stock[spot]) if stock else Spot(IMPORTED)
