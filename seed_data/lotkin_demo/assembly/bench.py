"""A bench: thirteen positions, each with one lot; what runs out is brought or topped up."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import datetime

    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["Bench", "Position"]

BROUGHT = {"SCREW": 300, "PIN": 120, "ORING": 120, "CAM": 30}
"""Pieces that fit the small bins; of everything else the whole lot is brought."""

TOPPED_UP = frozenset({"SCREW", "PIN", "ORING"})
"""Bins into which a new lot is tipped before the old one is used up."""


@dataclass(frozen=True, slots=True)
class Position:
    """A position of a bench, as the plan has it."""

    code: str
    part: str
    per: Decimal


@dataclass(slots=True)
class Bench:
    """One bench and who works there.

    Attributes:
        mounted: Position -> lot that it holds.
        changed_at: When it was last changed; None before the first time.
        fill_otherwise: Is asked first whether it fills a position in its own way.
        tops_up: Whether small bins are topped up before they are empty.
        below_book: Lot of which the bin holds more than the book says; "" for none.
    """

    floor: ShopFloor
    code: str
    person: str
    mounted: dict[str, str] = field(default_factory=dict)
    changed_at: datetime | None = None
    fill_otherwise: Callable[[Position], bool] = lambda _: False
    below_book: str = ""
    tops_up: bool = True

    @property
    def place(self) -> str:
        """Code of its station."""
        bench = self.floor.plan.bench(self.code)
        assert bench is not None
        return bench.place

    @property
    def positions(self) -> list[Position]:
        """Its positions in the order of the plan."""
        bench = self.floor.plan.bench(self.code)
        assert bench is not None
        return [Position(p.code, p.part, p.per) for p in bench.positions]

    def left(self, position: Position) -> Decimal:
        """Give what is left of the lot at a position."""
        lot = self.mounted.get(position.code)
        return self.floor.shelves.on_hand(lot, self.place) if lot else Decimal(0)

    def make_ready(self) -> bool:
        """Fill every position that cannot give one more unit; one mount tells all changes.

        Returns:
            Whether a unit can be built now.
        """
        changes: list[dict[str, object]] = []
        is_ready = True
        for position in self.positions:
            left = self.left(position)
            if left >= position.per and not self._is_time_to_top_up(position, left):
                continue
            if not self.fill_otherwise(position):
                change = self._fill(position, left)
                changes += [] if change is None else [change]
            is_ready = is_ready and self.left(position) >= position.per
        if changes:
            self.mount(changes)
        return is_ready

    def _is_time_to_top_up(self, position: Position, left: Decimal) -> bool:
        few = self.tops_up and left < 4 * position.per
        return position.part in TOPPED_UP and few and self.floor.rng.random() < 0.5

    def _fill(self, position: Position, left: Decimal) -> dict[str, object] | None:
        """Bring the next lot to a position; nothing if there is none or more of the same."""
        floor = self.floor
        lots = floor.shelves.lots(position.part, "STORE")
        if not lots:
            return None
        lot = lots[0]
        there = floor.shelves.on_hand(lot, "STORE")
        quantity = min(there, Decimal(BROUGHT.get(position.part, there)))
        if lot == self.mounted.get(position.code):
            self.bring_more(lot, quantity)
            return None
        if left:
            return self._top_up(position, lot, quantity)
        floor.shelves.bring(lot, quantity, origin="STORE", to=self.place)
        self.mounted[position.code] = lot
        return self.brought(position.code, lot, quantity)

    def bring_more(self, lot: str, quantity: Decimal) -> None:
        """Bring more of a lot that is mounted already."""
        self.floor.record(
            "move",
            self.person,
            station=self.place,
            item=lot,
            quantity=str(quantity),
            place="STORE",
            to_place=self.place,
        )
        self.floor.shelves.bring(lot, quantity, origin="STORE", to=self.place)

    def _top_up(self, position: Position, lot: str, quantity: Decimal) -> dict[str, object]:
        """Tip a new lot on what is left in the bin: from now on it is a lot of its own."""
        floor = self.floor
        old = self.mounted[position.code]
        left = floor.shelves.on_hand(old, self.place)
        mixed = floor.code("MIX")
        floor.note_first(topped_up_lot=mixed)
        floor.record(
            "pool",
            self.person,
            station=self.place,
            code=mixed,
            place=self.place,
            inputs=[
                {"item": old, "place": self.place},
                {"item": lot, "quantity": str(quantity), "place": "STORE"},
            ],
        )
        floor.shelves.take(old, self.place, left)
        floor.shelves.take(lot, "STORE", quantity)
        floor.shelves.put(mixed, position.part, self.place, left + quantity)
        self.mounted[position.code] = mixed
        return {"position": position.code, "item": mixed}

    def brought(self, position: str, lot: str, quantity: Decimal) -> dict[str, object]:
        """Say that some of a lot was brought from the store to a position."""
        origin = {"origin": "STORE", "quantity": str(quantity)}
        return {"position": position, "item": lot, **origin}

    def mount(self, changes: list[dict[str, object]]) -> str:
        """Record a change of the bench."""
        event = self.floor.record(
            "mount", self.person, station=self.place, bench=self.code, positions=changes
        )
        self.changed_at = self.floor.now
        return event
