"""What is in a unit: components through all its states, and who else has the same lots."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from lotkin.core.exposure.exposure import expose
from lotkin.core.genealogy.draft import Draft
from lotkin.core.genealogy.unit_state import components
from lotkin.core.values.kinds import Mixing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.genealogy.items import Item
    from lotkin.core.genealogy.unit_state import Component
    from lotkin.uses.ports import Reading

__all__ = ["BuiltIn", "Sharing", "built_in", "sharing"]


@dataclass(frozen=True, slots=True)
class Sharing:
    """Who else has a lot in it.

    Attributes:
        units: Serials of other units that have it now, or may have it.
        certain: Those of them that surely do.
        at: Place -> how many of them are there; ends such as `scrap` are places too.
    """

    units: int
    certain: int
    at: dict[str, int]


@dataclass(frozen=True, slots=True)
class BuiltIn:
    """A component of a unit.

    Attributes:
        lot: The item it was posted from.
        alternatives: Items that it may have come from instead.
        position: Where in the unit; "" if not said.
        per: Millionths of it in the unit.
        first_state, last_state: Codes of the first and last state that have it.
        removed: The newest state has it no longer.
        supplier, supplier_lot: Of the lot, or of the heat or lot it is a delivery of.
    """

    lot: Item
    alternatives: tuple[Item, ...]
    position: str
    per: int
    first_state: str
    last_state: str
    removed: bool
    supplier: str
    supplier_lot: str


def built_in(view: Reading, states: Sequence[Item]) -> list[BuiltIn]:
    """List the components of all states of a unit, what is in it now first, by position."""
    draft = Draft(view)
    found: dict[tuple[tuple[str, ...], str, int, int], BuiltIn] = {}
    for state in states:
        seen: Counter[tuple[tuple[str, ...], str, int]] = Counter()
        for one in _alternatives_joined(components(draft, state.code)):
            key = (one.lots, one.position, one.per)
            seen[key] += 1
            known = found.get((*key, seen[key]))
            if known is not None:
                found[(*key, seen[key])] = replace(known, last_state=state.code)
            else:
                found[(*key, seen[key])] = _made(view, one, state.code)
    newest = states[-1].code
    done = [replace(one, removed=one.last_state != newest) for one in found.values()]
    return sorted(done, key=lambda one: (one.removed, one.position, one.lot.code))


def _alternatives_joined(inside: Sequence[Component]) -> list[Component]:
    """Make one component of links that say it came from either of several lots."""
    joined: list[Component] = []
    at: dict[tuple[int, int], int] = {}
    for one in inside:
        link = one.direct
        if link is None or link.mixing is not Mixing.EITHER:
            joined.append(one)
            continue
        key = (link.event, link.group)
        if key not in at:
            at[key] = len(joined)
            joined.append(one)
        else:
            known = joined[at[key]]
            joined[at[key]] = replace(known, lots=(*known.lots, *one.lots))
    return joined


def _made(view: Reading, one: Component, state: str) -> BuiltIn:
    lot, *others = [item for code in one.lots if (item := view.item(code)) is not None]
    supplier, number = lot.supplier, lot.supplier_lot
    for link in () if number else view.parents(lot.code):
        source = view.item(link.parent)
        if source is not None and source.kind in ("heat", "source-lot"):
            supplier, number = source.supplier, source.supplier_lot
    return BuiltIn(lot, tuple(others), one.position, one.per, state, state, False, supplier, number)


def sharing(view: Reading, lot: str, serial: str) -> Sharing:
    """Find the other units that have a lot in them now, and where they are."""
    reach = view.reach([lot], "down")
    stock = view.reached_stock()
    exposure = expose(reach, reach.starts)
    nodes = reach.nodes
    has: dict[str, bool] = {}
    gone: set[str] = set()
    at: dict[str, str] = {}
    for i, kind in enumerate(nodes.kind):
        other = nodes.serial[i] or nodes.code[i]
        if kind != "unit" or other == serial:
            continue
        if exposure[i].removed:
            gone.add(other)
        has[other] = has.get(other, False) or exposure[i].certain
        for spot, quantity in stock.get(i, {}).items():
            if quantity > 0 and spot.place != "used in":
                at[other] = spot.place
    now = [other for other in has if other not in gone]
    places = Counter(at.get(other, "") for other in now)
    ordered = dict(sorted(places.items(), key=lambda each: (-each[1], each[0])))
    return Sharing(len(now), sum(has[other] for other in now), ordered)
