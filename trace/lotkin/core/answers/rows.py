"""Rows of answers: an item, how it is exposed, and where it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple, overload

from lotkin.core.account.cartons import emptied_cartons
from lotkin.core.values.kinds import FAMILY_OF
from lotkin.core.values.places import End, Spot
from lotkin.core.values.planned_places import kind_of_place

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from lotkin.core.exposure.exposure import Exposure
    from lotkin.core.exposure.reach import Reach
    from lotkin.core.genealogy.items import Item
    from lotkin.core.values.planned_places import PlannedPlaces

__all__ = ["Here", "Row", "RowMaker", "Rows"]


class Here(NamedTuple):
    """Pieces of an item at a place.

    `place_kind` is that of the plan (shelf, station, supplier, customer …), `end` for scrap and
    the like. A place that the plan does not know is a customer if anything was shipped there,
    else "": not known. `within` is a carton or outside batch.
    """

    place: str
    place_kind: str
    within: str
    quantity: int


class Row(NamedTuple):
    """One item of an answer; see `lotkin.core.exposure.exposure.Exposed` for the numbers.

    `start_not_recorded`: it is listed because it may have begun within the time asked about.
    `removed` also says of a carton that nothing of what is asked about is in it any more.
    """

    code: str
    kind: str
    family: str
    part: str
    quantity: int | None
    unit: str
    serial: str
    certain: bool
    chance: float | None
    chance_low: float
    chance_high: float
    content: float | None
    removed: bool
    held: bool
    at: tuple[Here, ...]
    start_not_recorded: bool = False


@dataclass(slots=True)
class RowMaker:
    """Makes rows of a reach: exposure, holds and places put together.

    Attributes:
        reach: Items and links.
        exposure: How they are exposed.
        stock: Position -> spot -> millionths.
        holds: Code -> reason, of all held items.
        places: Those of the plan in force, for what they are.
        shipped_to: Places that shipments went to, at least of those where the plan is silent.
        not_recorded: Codes listed because their start is not recorded.
        is_downwards: Whether it was walked to what came of the starts.
        left_out: Positions that a threshold leaves out: a carton is no suspect for their sake.
    """

    reach: Reach
    exposure: Exposure
    stock: Mapping[int, Mapping[Spot, int]]
    holds: Mapping[str, str]
    places: PlannedPlaces
    shipped_to: Collection[str]
    not_recorded: frozenset[str] = frozenset()
    is_downwards: bool = False
    left_out: Collection[int] = frozenset()
    _kinds: dict[str, str] = field(default_factory=dict)
    _emptied: frozenset[int] | None = None
    _places: dict[tuple[Spot, int], Here] = field(default_factory=dict)

    def place_kind(self, place: str) -> str:
        """Tell what a place is: see `Here`."""
        if Spot(place).is_end:
            return "end"
        if place not in self._kinds:
            self._kinds[place] = kind_of_place(place, self.places, lambda: self.shipped_to)
        return self._kinds[place]

    def is_emptied(self, i: int) -> bool:
        """Tell whether it is a carton that nothing suspect is in any more.

        Upwards nothing is: what a carton held belongs to the history of what is asked about.
        """
        if not self.is_downwards or self.reach.nodes.kind[i] != "carton":
            return False
        if self._emptied is None:
            self._emptied = emptied_cartons(self.reach, self.exposure, self.stock, self.left_out)
        return i in self._emptied

    def here(self, i: int) -> tuple[Here, ...]:
        """List where the item at a position is, places before ends."""
        found = [
            self._here(spot, quantity)
            for spot, quantity in self.stock.get(i, {}).items()
            if spot.place != End.USED_IN
        ]
        if len(found) > 1:
            found.sort(key=lambda here: (here.place_kind == "end", here.place, here.within))
        return tuple(found)

    def _here(self, spot: Spot, quantity: int) -> Here:
        known = self._places.get((spot, quantity))
        if known is None:
            known = Here(spot.place, self.place_kind(spot.place), spot.within, quantity)
            self._places[spot, quantity] = known
        return known

    def row_of_subject(self, item: Item, spot: Spot, quantity: int) -> Row:
        """Make the row of an item that is asked about itself, some of which is at a spot."""
        return Row(
            code=item.code,
            kind=item.kind,
            family=item.family.value,
            part=item.part,
            quantity=item.quantity,
            unit=item.unit,
            serial=item.serial,
            certain=True,
            chance=1.0,
            chance_low=1.0,
            chance_high=1.0,
            content=None,
            removed=False,
            held=item.code in self.holds,
            at=(self._here(spot, quantity),),
        )

    def row(self, i: int) -> Row:
        """Make the row of the item at a position."""
        nodes, exposed = self.reach.nodes, self.exposure[i]
        # by position: large answers make a row for each item, and names take three times as long
        return Row(
            nodes.code[i],
            nodes.kind[i],
            FAMILY_OF[nodes.kind[i]].value,
            nodes.part[i],
            nodes.quantity[i],
            nodes.unit[i],
            nodes.serial[i],
            exposed.certain,
            exposed.chance,
            exposed.low,
            exposed.high,
            exposed.content,
            exposed.removed or self.is_emptied(i),
            nodes.code[i] in self.holds,
            self.here(i),
            nodes.code[i] in self.not_recorded,
        )


class Rows(Sequence[Row]):
    """Rows in order of family, kind and code, each made when it is looked at."""

    def __init__(self, maker: RowMaker, positions: Sequence[int]) -> None:
        self.maker = maker
        self.unordered = positions

    @cached_property
    def positions(self) -> list[int]:
        """Positions in the reach, in the order of the rows."""
        nodes = self.maker.reach.nodes
        by_kind: dict[str, list[int]] = {}
        for i in self.unordered:
            by_kind.setdefault(nodes.kind[i], []).append(i)
        ordered: list[int] = []
        for kind in sorted(by_kind, key=lambda kind: (FAMILY_OF[kind].value, kind)):
            ordered += sorted(by_kind[kind], key=nodes.code.__getitem__)
        return ordered

    def __len__(self) -> int:
        return len(self.unordered)

    def __iter__(self) -> Iterator[Row]:
        return map(self.maker.row, self.positions)

    @overload
    def __getitem__(self, index: int) -> Row: ...

    @overload
    def __getitem__(self, index: slice[int | None, int | None, int | None]) -> list[Row]: ...

    def __getitem__(
        self, index: int | slice[int | None, int | None, int | None]
    ) -> Row | list[Row]:
        """Make one row, or those of a slice."""
        if isinstance(index, slice):
            return [self.maker.row(i) for i in self.positions[index]]
        return self.maker.row(self.positions[index])
