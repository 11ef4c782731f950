"""A synthetic works of any size, put in by `import` events: heats, lots, setups and units."""

from __future__ import annotations

import random
import uuid
from typing import TYPE_CHECKING

from lotkin.core.events.keeping.import_tables import Import
from lotkin.core.values.instants import from_us
from lotkin.core.values.kinds import Mixing
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["events_of_size"]

CHUNK = 2_000
START = 1_704_067_200_000_000
"""2024-01-01 in microseconds UTC."""


def events_of_size(units: int, seed: int = 952) -> Iterator[Import]:
    """Yield the events of a works that built some units.

    Every 100 units use a machined lot of 120 pieces from one of the heats; a bench setup serves
    about 25 units; a powder blend feeds 200 units and half of it the next blend.
    """
    chance = random.Random(seed)
    rows = Rows()
    for number in range(units):
        at = START + number * 60_000_000
        if number % 25 == 0:
            _add_lots(rows, number, at)
        rows.item(f"UNIT-{number}", "unit", 1, "pcs", at)
        rows.link(f"SETUP-{number - number % 25}", f"UNIT-{number}")
        if len(rows.links) + len(rows.items) >= CHUNK or number == units - 1:
            yield rows.event(chance)
            rows = Rows()


class Rows:
    """The rows of the next event."""

    def __init__(self) -> None:
        self.items: list[tuple[str, str, str, int | None, str, int | None]] = []
        self.links: list[tuple[str, str, int | None, int, Mixing, int]] = []

    def item(self, code: str, kind: str, quantity: int | None, unit: str, at: int) -> None:
        """Add an item."""
        micro = None if quantity is None else quantity * MICRO
        self.items.append((code, kind, kind.upper(), micro, unit, at))

    def link(
        self, parent: str, child: str, quantity: int | None = None, mixing: Mixing = Mixing.EACH
    ) -> None:
        """Add a link; blended ones into a child share a group."""
        micro = None if quantity is None else quantity * MICRO
        group = 1 if mixing is Mixing.BLEND else len(self.links) + 2
        self.links.append((parent, child, micro, group, mixing, MICRO))

    def event(self, chance: random.Random) -> Import:
        """Make an event of the rows."""
        return Import(
            id=uuid.UUID(int=chance.getrandbits(128), version=4),
            at=from_us(START),
            by="bench",
            items=tuple(self.items),
            links=tuple(self.links),
        )


def _add_lots(rows: Rows, number: int, at: int) -> None:
    """Add what begins with the unit of this number: heats, blends, lots and the setup."""
    if number % 10_000 == 0:
        rows.item(f"HEAT-{number}", "heat", None, "", at)
        rows.item(f"BAR-{number}", "bar-lot", 1_000_000, "m", at)
        rows.link(f"HEAT-{number}", f"BAR-{number}")
    if number % 200 == 0:
        rows.item(f"VIRGIN-{number}", "powder-lot", 20, "kg", at)
        rows.item(f"BLEND-{number}", "powder-blend", 20, "kg", at)
        rows.link(f"VIRGIN-{number}", f"BLEND-{number}", 10, Mixing.BLEND)
        if number:
            rows.link(f"BLEND-{number - 200}", f"BLEND-{number}", 10, Mixing.BLEND)
    if number % 100 == 0:
        rows.item(f"LOT-{number}", "machined-lot", 120, "pcs", at)
        rows.link(f"BAR-{number - number % 10_000}", f"LOT-{number}", 3)
        rows.item(f"COVER-{number}", "printed-lot", 120, "pcs", at)
        rows.link(f"BLEND-{number - number % 200}", f"COVER-{number}", 4)
    rows.item(f"SETUP-{number}", "bench-setup", None, "", at)
    for kind in ("LOT", "COVER"):
        rows.link(f"{kind}-{number - number % 100}", f"SETUP-{number}")
