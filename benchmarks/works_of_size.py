"""A synthetic works of any size, put in by `import` events: heats, lots, setups and units."""

from __future__ import annotations

import random
import uuid
from typing import TYPE_CHECKING

from lotkin.core.events.tables import Import
from lotkin.core.instants import from_us
from lotkin.core.quantities import MICRO

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
    items: list[tuple[str, str, str, int | None, str, int | None]] = []
    links: list[tuple[str, str, int | None, int, str, int]] = []

    def item(code: str, kind: str, quantity: int | None, unit: str, at: int) -> None:
        micro = None if quantity is None else quantity * MICRO
        items.append((code, kind, kind.upper(), micro, unit, at))

    def link(parent: str, child: str, quantity: int | None = None, mixing: str = "each") -> None:
        micro = None if quantity is None else quantity * MICRO
        group = 1 if mixing == "blend" else len(links) % 1000 + 2
        links.append((parent, child, micro, group, mixing, MICRO))

    for number in range(units):
        at = START + number * 60_000_000
        if number % 10_000 == 0:
            item(f"HEAT-{number}", "heat", None, "", at)
            item(f"BAR-{number}", "bar-lot", 1_000_000, "m", at)
            link(f"HEAT-{number}", f"BAR-{number}")
        if number % 200 == 0:
            item(f"VIRGIN-{number}", "powder-lot", 20, "kg", at)
            item(f"BLEND-{number}", "powder-blend", 20, "kg", at)
            link(f"VIRGIN-{number}", f"BLEND-{number}", 10, "blend")
            if number:
                link(f"BLEND-{number - 200}", f"BLEND-{number}", 10, "blend")
        if number % 100 == 0:
            item(f"LOT-{number}", "machined-lot", 120, "pcs", at)
            link(f"BAR-{number - number % 10_000}", f"LOT-{number}", 3)
            item(f"COVER-{number}", "printed-lot", 120, "pcs", at)
            link(f"BLEND-{number - number % 200}", f"COVER-{number}", 4)
        if number % 25 == 0:
            item(f"SETUP-{number}", "bench-setup", None, "", at)
            for kind in ("LOT", "COVER"):
                link(f"{kind}-{number - number % 100}", f"SETUP-{number}")
        item(f"UNIT-{number}", "unit", 1, "pcs", at)
        link(f"SETUP-{number - number % 25}", f"UNIT-{number}")
        if len(links) + len(items) >= CHUNK:
            yield _event(chance, items, links)
            items, links = [], []
    yield _event(chance, items, links)


def _event(
    chance: random.Random,
    items: list[tuple[str, str, str, int | None, str, int | None]],
    links: list[tuple[str, str, int | None, int, str, int]],
) -> Import:
    return Import(
        id=uuid.UUID(int=chance.getrandbits(128), version=4),
        at=from_us(START),
        by="bench",
        items=tuple(items),
        links=tuple(links),
    )
