"""Exposure as the page on it says, item by item over dicts: what anybody would write first."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.values.kinds import Mixing
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from lotkin.core.exposure.reach import Reach

__all__ = ["Found", "expose_by_dicts"]


class Found(NamedTuple):
    """How one item is exposed."""

    certain: bool
    chance: float
    low: float
    high: float
    content: float


Members = list[tuple[int, "int | None"]]

SOURCE = Found(True, 1.0, 1.0, 1.0, 1.0)
NOTHING = Found(False, 0.0, 0.0, 0.0, 0.0)


def expose_by_dicts(reach: Reach) -> dict[int, Found]:
    """Compute the exposure to the starts for links that are `each` or `blend`, a piece of each.

    These are all that the synthetic works has. Formulas: docs/explanation/exposure.md.
    """
    groups: dict[int, dict[tuple[int, int], tuple[Mixing, Members]]] = {}
    below: dict[int, list[int]] = {}
    waiting: dict[int, int] = {}
    links = reach.links
    for parent, child, event, number, mixing, quantity in zip(
        links.parent,
        links.child,
        links.event,
        links.group,
        links.mixing,
        links.quantity,
        strict=True,
    ):
        group = groups.setdefault(child, {}).setdefault((event, number), (mixing, []))
        group[1].append((parent, quantity))
        if parent >= 0:
            below.setdefault(parent, []).append(child)
            waiting[child] = waiting.get(child, 0) + 1
    found = dict.fromkeys(reach.starts, SOURCE)
    ready = [i for i in range(len(reach)) if not waiting.get(i)]
    for i in ready:
        if i not in found:
            found[i] = _combined(groups.get(i, {}), found)
        for child in below.get(i, ()):
            waiting[child] -= 1
            if not waiting[child]:
                ready.append(child)
    return found


def _combined(
    groups: dict[tuple[int, int], tuple[Mixing, Members]], found: dict[int, Found]
) -> Found:
    certain, spared, low, high, content = False, 1.0, 0.0, 0.0, 0.0
    for mixing, members in groups.values():
        total = sum(quantity or 0 for _, quantity in members) or MICRO
        part = 0.0
        for parent, quantity in members:
            of_parent = found.get(parent, NOTHING)
            certain = certain or of_parent.certain
            spared *= 1.0 - of_parent.chance
            low = max(low, of_parent.low)
            high += of_parent.high
            share = 1.0 if mixing is Mixing.EACH else (quantity or 0) / total
            part += share * of_parent.content
        content = max(content, part)
    if certain:
        return Found(True, 1.0, 1.0, 1.0, min(content, 1.0))
    return Found(False, 1.0 - spared, low, min(1.0, high), min(content, 1.0))
