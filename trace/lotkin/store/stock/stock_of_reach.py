"""What lies where for the items of a reach, put together only when it is looked at."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.values.places import Spot

__all__ = ["StockOfReach"]


class StockOfReach(Mapping[int, Mapping["Spot", int]]):
    """Position -> spot -> millionths, over rows of (item, spot, millionths)."""

    def __init__(
        self, rows: Sequence[Any], position: Mapping[int, int], spots: Mapping[int, Spot]
    ) -> None:
        self._rows = rows
        self._position = position
        self._spots = spots

    @cached_property
    def _found(self) -> dict[int, dict[Spot, int]]:
        found: dict[int, dict[Spot, int]] = {}
        position, spots = self._position, self._spots
        for item, spot, quantity in self._rows:
            found.setdefault(position[item], {})[spots[spot]] = quantity
        return found

    def __getitem__(self, position: int) -> Mapping[Spot, int]:
        """Give the spots of the item at a position."""
        return self._found[position]

    def __iter__(self) -> Iterator[int]:
        return iter(self._found)

    def __len__(self) -> int:
        return len(self._found)
