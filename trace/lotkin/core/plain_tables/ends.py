"""The two ends of a link: items of the table or recorded ones, and what is left of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from lotkin.core.values.kinds import FAMILY_OF, Family
from lotkin.core.values.quantities import LARGEST, MICRO

if TYPE_CHECKING:
    from lotkin.core.genealogy.items import Item
    from lotkin.core.plain_tables.item_table import ItemTable

__all__ = ["End", "Ends", "Recorded"]


MOST = LARGEST * MICRO
"""What nobody has counted; sums of it stay in bounds all the same."""


class Recorded(Protocol):
    """What is recorded already, as far as tables need to know."""

    def item(self, code: str) -> Item | None:
        """Give the item of exactly this code."""

    def left(self, code: str) -> int:
        """Give the millionths of a recorded item that an import may take."""

    def takes_parents(self, code: str) -> bool:
        """Tell whether an import may still say what a recorded item was made from."""


@dataclass(slots=True)
class End:
    """An item as links meet it.

    Attributes:
        left: Millionths that can still be taken.
        is_counted: Whether `left` is known; else it only keeps sums within bounds.
        is_new: Whether it comes with the table.
        takes_parents: Whether the table may say what it was made from.
    """

    code: str
    kind: str
    unit: str
    made_at: int | None
    left: int
    is_counted: bool
    is_new: bool
    takes_parents: bool

    @property
    def family(self) -> Family | None:
        """The family of its kind; None if the kind is a bad cell."""
        return FAMILY_OF.get(self.kind)


class Ends:
    """Finds the ends of links, each one once."""

    def __init__(self, items: ItemTable, recorded: Recorded) -> None:
        self._items = items
        self._recorded = recorded
        self._found: dict[str, End | None] = {}

    def find(self, code: str) -> End | None:
        """Give the item of a code; None if it is neither in the table nor recorded."""
        try:
            return self._found[code]
        except KeyError:
            end = self._found[code] = self._look_up(code)
            return end

    def _look_up(self, code: str) -> End | None:
        row = self._items.rows.get(code)
        if row is not None:
            _, kind, _, quantity, unit, made_at = row
            counted = quantity is not None
            left = MOST if quantity is None else quantity
            return End(code, kind, unit, made_at, left, counted, is_new=True, takes_parents=True)
        item = self._recorded.item(code)
        if item is None:
            return None
        counted = item.quantity is not None
        left = self._recorded.left(code) if counted else MOST
        takes = self._recorded.takes_parents(code)
        at = item.made_at
        return End(code, item.kind, item.unit, at, left, counted, is_new=False, takes_parents=takes)
