"""Common cause: what units that came back share, compared with others built at that time."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from lotkin.core.errors import NotAUnit
from lotkin.core.quality.cause import FEWEST_COMPLAINTS, Compared, Suspect, compare, holders
from lotkin.core.values.kinds import FAMILY_OF, Family
from lotkin.uses.lookup.resolve import resolve
from lotkin.uses.ports import Reading

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from contextlib import AbstractContextManager

    from lotkin.core.exposure.reach import Reach
    from lotkin.core.genealogy.items import Item

__all__ = ["MARGIN_DAYS", "CanCompare", "Cause", "CommonCause", "Comparing", "common_cause"]

MARGIN_DAYS = 45
"""Days before the first and after the last failed unit in which others are compared.

About as long as a lot lasts: with less, nearly all units compared have what the failed ones have.
"""

US_PER_DAY = 86_400_000_000


class Comparing(Reading, Protocol):
    """One state of the store, from which units can be listed."""

    def all_items(self) -> Iterator[Item]:
        """Yield all living items in order of code."""


class CanCompare(Protocol):
    """A store in which units can be compared."""

    def reading(self) -> AbstractContextManager[Comparing]:
        """Give a view of one state of the store."""


@dataclass(frozen=True, slots=True)
class Cause:
    """What failed units share; the items of it the data cannot tell apart.

    Attributes:
        items: (code, kind, part) of each, in order of kind and code.
        suspect: The counts and how likely they are to be chance.
    """

    items: tuple[tuple[str, str, str], ...]
    suspect: Suspect


@dataclass(frozen=True, slots=True)
class CommonCause:
    """What a comparison found.

    Attributes:
        complaints: States of the units that failed.
        parts: Parts of them; the others compared are of the same.
        built: Microseconds UTC of the span in which the units compared were built, the margin
            taken in; None if no time is known.
        margin_days: The margin on either side.
        compared: The comparison; None if there are fewer failed units than `FEWEST_COMPLAINTS`.
        causes: The suspects of it with their items, in the same order.
        as_of: Journal position.
    """

    complaints: tuple[Item, ...]
    parts: tuple[str, ...]
    built: tuple[int, int] | None
    margin_days: int
    compared: Compared | None
    causes: tuple[Cause, ...]
    as_of: int

    @property
    def findings(self) -> tuple[Cause, ...]:
        """What is more than chance."""
        return tuple(cause for cause in self.causes if cause.suspect.is_finding)


def common_cause(
    store: CanCompare, texts: Sequence[str], margin_days: int = MARGIN_DAYS
) -> CommonCause:
    """Rank what failed units share by how unlikely it is to be chance.

    Compared are units of the same parts that were shipped, built at the time of the failed ones.
    A failed unit counts as it was when it last came back, so that a repair hides nothing; to ask
    about another state of it, name that state (SERIAL/1). All others count as they are now.

    Args:
        store: Where to look.
        texts: Serials or labels of units that failed.
        margin_days: Days before and after the failed ones, at least 0.

    Raises:
        NotFound, Ambiguous: A text leads nowhere, or to several items.
        NotAUnit: It leads to something else.
    """
    with store.reading() as view:
        as_of = view.journal_head()[0]
        failed = _failed(view, texts)
        parts = tuple(sorted({unit.part for unit in failed.values()}))
        units = _units(view, set(parts))
        built = _span([units[serial][0].made_at for serial in failed], margin_days)
        if len(failed) < FEWEST_COMPLAINTS:
            complaints = tuple(failed.values())
            return CommonCause(complaints, parts, built, margin_days, None, (), as_of)
        others = _others(view, units, set(failed), built)
        everyone = [*failed.values(), *others]
        reach = view.reach([unit.code for unit in everyone], "up")
    compared = _compare(reach, len(failed))
    causes = tuple(Cause(_named(reach, each), each) for each in compared.suspects)
    return CommonCause(tuple(failed.values()), parts, built, margin_days, compared, causes, as_of)


def _serial(unit: Item) -> str:
    return unit.serial or unit.code


def _failed(view: Reading, texts: Sequence[str]) -> dict[str, Item]:
    """Find the failed units, each serial once."""
    failed: dict[str, Item] = {}
    for text in texts:
        item = resolve(view, text)
        if item.kind != "unit":
            raise NotAUnit(item.code, item.kind)
        failed.setdefault(_serial(item), item if item.code == text else _as_returned(view, item))
    return failed


def _as_returned(view: Reading, unit: Item) -> Item:
    """Give the state of a unit in which it last came back; the unit itself if it never did."""
    states = view.states_of(_serial(unit))
    returns = [
        seq
        for state in states
        for seq in view.events_of(state.code)
        if view.entry(seq).kind == "return"
    ]
    before = [state for state in states if returns and state.event < max(returns)]
    return before[-1] if before else unit


def _units(view: Comparing, parts: set[str]) -> dict[str, list[Item]]:
    """List the units of some parts by serial, the states of each in order."""
    units: dict[str, list[Item]] = {}
    for item in view.all_items():
        if item.kind == "unit" and item.part in parts:
            units.setdefault(_serial(item), []).append(item)
    for states in units.values():
        states.sort(key=lambda state: (state.event, len(state.code), state.code))
    return units


def _span(times: Sequence[int | None], margin_days: int) -> tuple[int, int] | None:
    known = [time for time in times if time is not None]
    margin = margin_days * US_PER_DAY
    return (min(known) - margin, max(known) + margin) if known else None


def _others(
    view: Reading, units: dict[str, list[Item]], failed: set[str], built: tuple[int, int] | None
) -> list[Item]:
    """List other units that were built in a span and shipped, each as it is now."""
    near = {
        serial: states
        for serial, states in units.items()
        if serial not in failed and _is_within(states[0].made_at, built)
    }
    codes = [state.code for states in near.values() for state in states]
    if not codes:
        return []
    shipped = _shipped(view.reach(codes, "down"))
    return [states[-1] for states in near.values() if any(s.code in shipped for s in states)]


def _is_within(time: int | None, span: tuple[int, int] | None) -> bool:
    if span is None:
        return True
    return time is not None and span[0] <= time <= span[1]


def _shipped(reach: Reach) -> set[str]:
    """Name the items that lie in a shipment, or in a carton that does."""
    kinds, links = reach.nodes.kind, reach.links
    packed_in: dict[int, list[int]] = {}
    for parent, child in zip(links.parent, links.child, strict=True):
        if FAMILY_OF[kinds[child]] is Family.PACK:
            packed_in.setdefault(parent, []).append(child)
    shipped = {i for i, kind in enumerate(kinds) if kind == "shipment"}
    for i in reversed(reach.order()):
        if any(pack in shipped for pack in packed_in.get(i, ())):
            shipped.add(i)
    return {reach.nodes.code[i] for i in shipped}


def _compare(reach: Reach, failed: int) -> Compared:
    """Compare the starts of a walk upwards: the first ones failed."""
    units = reach.starts
    bits = holders(reach, units)
    starts = set(units)
    behind = {i: units for i, units in enumerate(bits) if units and i not in starts}
    return compare(behind, (1 << failed) - 1, (1 << len(units)) - 1)


def _named(reach: Reach, suspect: Suspect) -> tuple[tuple[str, str, str], ...]:
    nodes = reach.nodes
    named = [(nodes.code[i], nodes.kind[i], nodes.part[i]) for i in suspect.items]
    return tuple(sorted(named, key=lambda item: (item[1], item[0])))
