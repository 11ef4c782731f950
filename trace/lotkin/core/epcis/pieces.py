"""Events that hold many things, divided so that each is told by itself."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

from lotkin.core.epcis.extension import EventRows

if TYPE_CHECKING:
    from lotkin.core.epcis.told import Told

__all__ = ["pieces"]


SPLIT = frozenset({"import", "adopt"})
"""Kinds whose events hold many things that have nothing to do with each other."""


def pieces(told: Told) -> list[Told]:
    """Divide an event that holds many unrelated things: one piece for each thing made."""
    if told.kind not in SPLIT:
        return [told]
    made = {item.code: item for item in told.rows.items}
    by_child: dict[str, EventRows] = defaultdict(EventRows)
    for link in told.rows.links:
        by_child[link.child].links.append(link)
    rest = EventRows(labels=told.rows.labels, holds=told.rows.holds)
    for code, item in made.items():
        by_child.get(code, rest).items.append(item)
    home = {link.parent: link.child for link in reversed(told.rows.links)}
    for movement in told.rows.movements:
        code = movement.item if movement.origin is None else home.get(movement.item, "")
        by_child.get(code, rest).movements.append(movement)
    parts = [rest, *by_child.values()] if rest.codes() else list(by_child.values())
    return [replace(told, rows=rows, piece=number) for number, rows in enumerate(parts, 1)]
